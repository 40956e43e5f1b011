import {join} from "node:path";
import {DuckDBInstance} from "@duckdb/node-api";
import {fields} from "../../lib/book/field.ts";
import {files} from "../../lib/book/records.ts";
import {soundTables} from "../io/soundTables.ts";
import type {SqlEngine} from "../sql/countsBySql.ts";

/** DuckDB in memory, as the engine that tests and benchmarks put the SQL to; no command needs it. */
export async function duckDb(): Promise<{run: SqlEngine; close: () => void; version: string}> {
  const instance = await DuckDBInstance.create(":memory:");
  const connection = await instance.connect();
  const run: SqlEngine = async (statement) => (await connection.runAndReadAll(statement)).getRowObjectsJS();
  const [about] = await run("SELECT version() AS version");
  return {
    run,
    version: String(about!.version),
    close: () => {
      connection.closeSync();
      instance.closeSync();
    }
  };
}

const types = {date: "DATE", number: "DOUBLE", integer: "BIGINT", name: "VARCHAR", text: "VARCHAR", word: "VARCHAR"};

/** Loads the tables that `writeSoundTables` wrote. */
export async function loadCsv(run: SqlEngine, folder: string): Promise<void> {
  for (const table of soundTables) {
    const columns = fields(files[`${table}.csv`].schema).map(([, {heading, kind}]) => `'${heading}': '${types[kind]}'`);
    const how = `header = true, auto_detect = false, quote = '"', escape = '"', columns = {'row': 'BIGINT', ${columns.join(", ")}}`;
    await run(`CREATE TABLE ${table} AS SELECT * FROM read_csv('${place(folder, `${table}.csv`)}', ${how})`);
  }
}

/** Writes the tables that are loaded as Parquet files. */
export async function writeParquet(run: SqlEngine, folder: string): Promise<void> {
  for (const table of soundTables)
    await run(`COPY ${table} TO '${place(folder, `${table}.parquet`)}' (FORMAT parquet)`);
}

/** Puts the tables of Parquet files in place, read where they lie. */
export async function loadParquet(run: SqlEngine, folder: string): Promise<void> {
  for (const table of soundTables)
    await run(`CREATE VIEW ${table} AS SELECT * FROM read_parquet('${place(folder, `${table}.parquet`)}')`);
}

const place = (folder: string, file: string) => join(folder, file).replaceAll("\\", "/").replaceAll("'", "''");
