import ts from "typescript";
import {cellAt, type Fault, type Notebook} from "./cells.ts";

const session = new URL("session.ts", import.meta.url).href;

/**
 * A notebook as JavaScript that tells its session where it is: before the first statement of each cell `await enterCell(number)`, and in
 * place of an expression that ends a cell `showValue(expression)`. The source map leads back to the lines of the notebook.
 *
 * @param name of the file, for the source map
 */
export function instrument(notebook: Notebook, name: string): {code: string; fault?: undefined} | {fault: Fault} {
  if (notebook.fault) return {fault: notebook.fault};
  const {outputText, diagnostics = []} = ts.transpileModule(notebook.source.text, {
    fileName: name,
    reportDiagnostics: true,
    compilerOptions: {
      module: ts.ModuleKind.ESNext,
      target: ts.ScriptTarget.ES2023,
      verbatimModuleSyntax: true,
      inlineSourceMap: true
    },
    transformers: {before: [tellSession(notebook)]}
  });
  const wrong = diagnostics.find(({start}) => start !== undefined);
  if (!wrong) return {code: outputText};
  const line = notebook.source.getLineAndCharacterOfPosition(wrong.start!).line + 1;
  return {fault: {message: `Syntax error: ${ts.flattenDiagnosticMessageText(wrong.messageText, " ")}`, lines: [line]}};
}

function tellSession(notebook: Notebook): ts.TransformerFactory<ts.SourceFile> {
  return ({factory}) =>
    (file) => {
      const enterCell = factory.createUniqueName("enterCell");
      const showValue = factory.createUniqueName("showValue");
      const call = (name: ts.Identifier, argument: ts.Expression) =>
        factory.createCallExpression(name, undefined, [argument]);
      const numberOf = (statement: ts.Statement) => cellAt(notebook, statement.getStart(file))?.number;
      const statements = file.statements.flatMap((statement, i) => {
        const number = numberOf(statement);
        const [before, after] = [file.statements[i - 1], file.statements[i + 1]];
        const begins = number !== undefined && (!before || numberOf(before) !== number);
        const ends = !after || numberOf(after) !== number;
        const entering = begins
          ? [
              factory.createExpressionStatement(
                factory.createAwaitExpression(call(enterCell, factory.createNumericLiteral(number)))
              )
            ]
          : [];
        if (!ends || !ts.isExpressionStatement(statement)) return [...entering, statement];
        const shown = ts.setSourceMapRange(call(showValue, statement.expression), statement.expression);
        return [...entering, factory.updateExpressionStatement(statement, shown)];
      });
      const named = (name: string, as: ts.Identifier) =>
        factory.createImportSpecifier(false, factory.createIdentifier(name), as);
      const imports = factory.createNamedImports([named("enterCell", enterCell), named("showValue", showValue)]);
      const importing = factory.createImportDeclaration(
        undefined,
        factory.createImportClause(undefined, undefined, imports),
        factory.createStringLiteral(session)
      );
      return factory.updateSourceFile(file, [importing, ...statements]);
    };
}
