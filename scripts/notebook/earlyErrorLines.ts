import ts from "typescript";

/**
 * The line of the first fault that keeps a module from beginning though its grammar is right, such as a name declared twice: Node refuses it
 * without saying where. The compiler says it, looking at this text alone. Returns one line, or none when it finds nothing.
 */
export function earlyErrorLines(text: string): number[] {
  const options: ts.CompilerOptions = {
    noLib: true,
    noResolve: true,
    types: [],
    module: ts.ModuleKind.ESNext,
    target: ts.ScriptTarget.ES2023
  };
  const host = ts.createCompilerHost(options);
  const file = ts.createSourceFile("notebook.ts", text, ts.ScriptTarget.ES2023, true);
  const program = ts.createProgram(["notebook.ts"], options, {
    ...host,
    getSourceFile: (name) => (name === "notebook.ts" ? file : undefined)
  });
  // Of what it finds only the rules of the language count: numbers below 2000, and a name declared twice.
  const found = program.getSemanticDiagnostics(file).filter(({code}) => code < 2000 || code === 2451 || code === 2300);
  const last = found.at(-1)?.start; // of two declarations the second is one too many
  return last === undefined ? [] : [file.getLineAndCharacterOfPosition(last).line + 1];
}
