import type {FieldMeta} from "./field.ts";
import {type FileName, files} from "./records.ts";

/** What is said of one column of one file of the book. */
export interface ColumnDoc {
  file: FileName;
  heading: string;
  required: boolean;
  unit?: string;
  description: string;
  example: string;
}

/** Every column of the book's files, from the same declaration that checks their cells. */
export function columnDocs(): ColumnDoc[] {
  return (Object.keys(files) as FileName[]).flatMap((file) =>
    Object.values(files[file].schema.shape).map((field) => {
      const {heading, unit, description, example, optional} = field.meta() as unknown as FieldMeta & {
        optional?: boolean;
      };
      return {file, heading, required: optional !== true, ...(unit !== undefined && {unit}), description, example};
    })
  );
}

/** The columns as Markdown tables, one a file, as they stand in the README. */
export function columnTables(): string {
  const docs = columnDocs();
  return (Object.keys(files) as FileName[])
    .map((file) => {
      const rows = docs
        .filter((doc) => doc.file === file)
        .map(
          ({heading, required, unit, description, example}) =>
            `| ${required ? `**${heading}**` : heading} | ${unit ?? ""} | ${description} | ${example} |`
        );
      const title = `**\`${file}\`**: one row is ${files[file].rowIs}${files[file].required ? "" : " (this file may be missing)"}`;
      return [title, "", "| column | unit | what | example |", "|---|---|---|---|", ...rows].join("\n");
    })
    .join("\n\n");
}
