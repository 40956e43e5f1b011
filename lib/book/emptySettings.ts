import * as z from "zod";
import {wrapped} from "./emptyBook.ts";
import {type SettingSchema, Settings} from "./settings.ts";

/** The text of a new `workshop.json`: every setting with its default, under a remark that says what it is. */
export function emptySettings(): string {
  const schema = z.toJSONSchema(Settings) as SettingSchema;
  const remarks = wrapped(
    "The settings of the workshop. Each stands here with its default, which also counts where it is taken out. Lines that begin with // are remarks.",
    "// ",
    "// "
  );
  return `${[...remarks, ...settingLines(schema, Settings.parse({}), "")].join("\n")}\n`;
}

/** The default of a setting as lines of JSON: its parts each under its remark, entries of a list or of names one a line. */
function settingLines({properties}: SettingSchema, value: unknown, indent: string): string[] {
  const inside = `${indent}  `;
  if (properties) {
    const defaults = value as Record<string, unknown>;
    const parts = Object.entries(properties).filter(([key]) => defaults[key] !== undefined);
    const lines = parts.map(([key, part]) => {
      const [first, ...rest] = settingLines(part, defaults[key], inside);
      return [...remarkLines(part, `${inside}// `), `${inside}${JSON.stringify(key)}: ${first}`, ...rest];
    });
    // What has no default is told in a remark, as there is nothing to write.
    const without = Object.entries(properties).filter(([key, part]) => defaults[key] === undefined && part.description);
    const may =
      without.length === 0
        ? []
        : [
            `${inside}// It may also have:`,
            ...without.flatMap(([key, part]) =>
              wrapped(`${key}: ${saidOf(part)}`, `${inside}//   `, `${inside}//     `)
            )
          ];
    return ["{", ...may, ...joined(lines, indent === "" ? [""] : []), `${indent}}`];
  }
  if (typeof value !== "object" || value === null) return [JSON.stringify(value)];
  const isList = Array.isArray(value);
  const entries = Object.entries(value).map(([key, part]) => [
    `${inside}${isList ? "" : `${JSON.stringify(key)}: `}${oneLine(part)}`
  ]);
  const [open, close] = isList ? ["[", "]"] : ["{", "}"];
  return entries.length === 0 ? [open + close] : [open, ...joined(entries, []), indent + close];
}

/** Blocks of lines with a comma behind each but the last, and what stands between two. */
function joined(blocks: readonly string[][], between: readonly string[]): string[] {
  return blocks.flatMap((lines, index) =>
    index === blocks.length - 1 ? lines : [...lines.slice(0, -1), `${lines.at(-1)},`, ...between]
  );
}

function oneLine(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(oneLine).join(", ")}]`;
  if (typeof value !== "object" || value === null) return JSON.stringify(value);
  const parts = Object.entries(value).map(([key, part]) => `${JSON.stringify(key)}: ${oneLine(part)}`);
  return `{${parts.join(", ")}}`;
}

/** The remark above a setting; for a list, or for what the owner names, also what each of its entries has. */
function remarkLines(setting: SettingSchema, prefix: string): string[] {
  const {items, additionalProperties, propertyNames} = setting;
  const entry = items ?? (additionalProperties || undefined);
  const {items: _, ...itself} = setting;
  const said = saidOf({...itself, properties: {}});
  if (!entry?.properties) return said === "" ? [] : wrapped(said, prefix, prefix);
  const each = items ? "Each has" : propertyNames?.enum ? `For ${listed(propertyNames.enum)}` : "By its name, each has";
  const parts = Object.entries(entry.properties).flatMap(([key, part]) => {
    const what = [saidOf(part), typeof part.default === "number" ? `${part.default} by default` : ""]
      .filter(Boolean)
      .join("; ");
    return wrapped(what === "" ? key : `${key}: ${what}`, `${prefix}  `, `${prefix}    `);
  });
  return [...wrapped(`${said}. ${each}:`, prefix, prefix), ...parts];
}

/** What a setting is, which words it takes, and what it has within. */
function saidOf({description, enum: words, properties = {}, items}: SettingSchema): string {
  const parts = Object.entries(items?.properties ?? properties).map(([key, {description: part}]) =>
    part ? `${key} (${part})` : key
  );
  return [
    description,
    words && `one of ${words.map((word) => JSON.stringify(word)).join(", ")}`,
    parts.length > 0 && `${items ? "each " : ""}with ${parts.join(" and ")}`
  ]
    .filter(Boolean)
    .join("; ");
}

function listed(words: readonly string[]): string {
  return `${words.slice(0, -1).join(", ")} or ${words.at(-1)}`;
}
