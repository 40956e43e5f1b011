import {Ajv2020} from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import {expect, test} from "vitest";
import {reportNames} from "../../scripts/pages/reportNames.ts";
import {run} from "./run.ts";

test("the JSON file beside each page holds to the schema beside it, and its numbers are the page's tables", {
  timeout: 300_000
}, async () => {
  const {code, written} = await run("report", []);
  expect(code).toBe(0);
  const ajv = new Ajv2020({allErrors: true, allowUnionTypes: true});
  (addFormats as unknown as (one: Ajv2020) => void)(ajv);
  const valid = ajv.compile(JSON.parse(written.get("report.schema.json")!));
  for (const name of Object.keys(reportNames)) {
    const data = JSON.parse(written.get(`${name}.json`)!);
    expect(valid(data), JSON.stringify(valid.errors)).toBe(true);
    expect(written.get(`${name}.html`)!.match(/<h1[^>]*>([^<]*)/)![1]).toBe(data.title);
    const tables = [...written.keys()].filter((file) => file.startsWith(`tables/${name}-`));
    expect(tables.sort()).toEqual(
      Object.keys(data.tables)
        .map((id) => `tables/${name}-${id}.csv`)
        .sort()
    );
    expect([...written.keys()]).toContain(`${name}.xlsx`);
    expect(valid({...data, format: 2})).toBe(false);
    expect(valid({...data, lead: undefined})).toBe(false);
  }
});
