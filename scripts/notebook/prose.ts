import MarkdownIt from "markdown-it";
import {type Html, raw} from "../../lib/report/html.ts";

/** Markdown without raw HTML and without pictures, as a page loads nothing; links to scripts are refused by the library. */
const markdown = new MarkdownIt({html: false}).disable("image");

/** The prose of a notebook in a page. */
export interface Prose {
  /** The first heading of all, which is taken out of the text; empty where there is none. */
  title: string;
  /** Of each text, in order. */
  bodies: Html[];
  /** The headings of the second level, for the contents list. */
  parts: {id: string; heading: string}[];
}

/** Markdown texts as pieces of one page whose title is their first heading. All others stand at least on the second level. */
export function prose(texts: readonly string[]): Prose {
  let title: string | undefined;
  const parts: Prose["parts"] = [];
  const bodies = texts.map((text) => {
    const tokens = markdown.parse(text, {});
    for (let i = 0; i < tokens.length; i++) {
      const token = tokens[i]!;
      if (token.type !== "heading_open") continue;
      const words = (tokens[i + 1]!.children ?? [])
        .map((child) => (child.type === "softbreak" ? " " : child.content))
        .join("");
      if (title === undefined) {
        title = words;
        tokens.splice(i--, 3);
        continue;
      }
      const tag = token.tag === "h1" ? "h2" : token.tag;
      token.tag = tag;
      tokens[i + 2]!.tag = tag;
      if (tag !== "h2") continue;
      const id = `part-${parts.length + 1}`;
      token.attrSet("id", id);
      parts.push({id, heading: words});
    }
    return raw(markdown.renderer.render(tokens, markdown.options, {}));
  });
  return {title: title ?? "", bodies, parts};
}
