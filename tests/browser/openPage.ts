import {pathToFileURL} from "node:url";
import type {Browser, BrowserContextOptions, Page} from "playwright-core";

/** An opened page, with all that it asked for and said meanwhile. */
export interface OpenPage {
  page: Page;
  /** Addresses asked for, the document itself included. */
  requests: string[];
  /** What the browser or a script wrote to the console, blocked loads included. */
  messages: string[];
}

/** Opens a file as a double click would, from file:// in a context of its own, and hands it to `look`; then closes it. */
export async function openPage<T>(
  browser: Browser,
  path: string,
  options: BrowserContextOptions,
  look: (open: OpenPage) => Promise<T>
): Promise<T> {
  const context = await browser.newContext({viewport: {width: 1280, height: 900}, ...options});
  const page = await context.newPage();
  const open: OpenPage = {page, requests: [], messages: []};
  page.on("request", (request) => open.requests.push(request.url()));
  page.on("console", (message) => open.messages.push(message.text()));
  page.on("pageerror", (error) => open.messages.push(error.message));
  try {
    await page.goto(pathToFileURL(path).href);
    return await look(open);
  } finally {
    await context.close();
  }
}
