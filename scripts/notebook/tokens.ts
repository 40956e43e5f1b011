import ts from "typescript";

/** A token or comment of a text, from one position to another. */
export interface Token {
  kind: "comment" | "keyword" | "string" | "number" | "other";
  start: number;
  end: number;
}

/**
 * Every token and comment of a TypeScript text in order, also of one with errors. The parser says where texts, templates and
 * regular expressions lie; what stands between them is scanned, so that a comment is a comment only where the language says so.
 */
export function tokens(source: ts.SourceFile): Token[] {
  const {text} = source;
  const found: Token[] = [];
  let reached = 0;
  const scanTo = (end: number) => {
    const scanner = ts.createScanner(
      ts.ScriptTarget.Latest,
      false,
      ts.LanguageVariant.Standard,
      text,
      undefined,
      reached
    );
    scanner.setText(text, reached, Math.max(0, end - reached));
    for (let kind = scanner.scan(); kind !== ts.SyntaxKind.EndOfFileToken; kind = scanner.scan())
      if (kind !== ts.SyntaxKind.WhitespaceTrivia && kind !== ts.SyntaxKind.NewLineTrivia)
        found.push({kind: kindOf(kind), start: scanner.getTokenStart(), end: scanner.getTokenEnd()});
    reached = Math.max(reached, end);
  };
  const visit = (node: ts.Node): void => {
    if (!ts.isToken(node)) {
      ts.forEachChild(node, visit);
      return;
    }
    const start = node.getStart(source);
    scanTo(start);
    if (node.end > start && start >= reached) found.push({kind: kindOf(node.kind), start, end: node.end});
    reached = Math.max(reached, node.end);
  };
  visit(source);
  scanTo(text.length);
  return found;
}

function kindOf(kind: ts.SyntaxKind): Token["kind"] {
  if (kind === ts.SyntaxKind.SingleLineCommentTrivia || kind === ts.SyntaxKind.MultiLineCommentTrivia) return "comment";
  if (kind >= ts.SyntaxKind.FirstKeyword && kind <= ts.SyntaxKind.LastKeyword) return "keyword";
  if (kind === ts.SyntaxKind.NumericLiteral || kind === ts.SyntaxKind.BigIntLiteral) return "number";
  const isText = kind === ts.SyntaxKind.StringLiteral || kind === ts.SyntaxKind.RegularExpressionLiteral;
  const isTemplate = kind >= ts.SyntaxKind.FirstTemplateToken && kind <= ts.SyntaxKind.LastTemplateToken;
  return isText || isTemplate ? "string" : "other";
}
