import {existsSync} from "node:fs";
import {fileURLToPath} from "node:url";
import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {guidePage, guideText} from "../../../scripts/pages/guide.ts";

const text = guideText();
const {document} = new JSDOM(guidePage(text)).window;

it("guidePage(text) holds the parts about the numbers and no other, each number at its anchor", () => {
  const headings = [...document.querySelectorAll("main h2")].map((node) => node.textContent);
  expect(headings).toEqual(["Main points", "How the main numbers are made", "How far the numbers can be trusted"]);
  expect(document.getElementById("discards-by-month")?.textContent).toBe("Discards by month");
  const linked = [...document.querySelectorAll(".contents a")].map((link) => link.getAttribute("href")!.slice(1));
  expect(linked.length).toBeGreaterThan(10);
  for (const id of linked) expect(document.getElementById(id), id).not.toBeNull();
});

it("guidePage(text) shows markup in the text as text", () => {
  const made = guidePage("## How the main numbers are made\n\n### A <b>\n\n<script>x</script> ![p](q.png)\n");
  expect(made).toContain("&lt;script&gt;x&lt;/script&gt;");
  expect(made).not.toMatch(/<img|<script>x/);
});

it("every number of the guide names a file of the library that is there, and every file named is there", () => {
  const [, part] = text.split("## How the main numbers are made\n");
  const numbers = part!.split("\n## ")[0]!.split("\n### ").slice(1);
  for (const number of numbers) expect(number, number.slice(0, 20)).toMatch(/Code: `lib\//);
  const files = [...text.matchAll(/`((?:lib|scripts|tests)\/[\w./-]+\.ts)`/g)].map(([, file]) => file!);
  expect(files.length).toBeGreaterThan(20);
  const root = fileURLToPath(new URL("../../../", import.meta.url));
  expect(files.filter((file) => !existsSync(`${root}${file}`))).toEqual([]);
});
