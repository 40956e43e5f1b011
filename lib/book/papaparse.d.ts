/** The little of PapaParse that is used here; its own types would bring Node's and the browser's globals into `lib/`. */
declare module "papaparse" {
  interface ParseError {
    code: string;
    row?: number;
    index?: number;
  }
  interface ParseConfig {
    header: false;
    delimiter: string;
    newline?: string;
    skipEmptyLines: false;
    dynamicTyping: false;
  }
  const Papa: {
    parse(text: string, config: ParseConfig): {data: string[][]; errors: ParseError[]};
    unparse(rows: readonly (readonly unknown[])[], config: {newline: string; delimiter?: string}): string;
  };
  export default Papa;
}
