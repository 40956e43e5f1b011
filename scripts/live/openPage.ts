import {say} from "../command.ts";

/**
 * Opens a page in the user's browser, and says where it is: a system without a browser or screen may take the page and show nothing. Where
 * it refuses at once, that is said too, and is no fault of the report.
 *
 * @param target a path or an address
 * @param opener the package `open`, loaded when it is needed
 */
export async function openPage(target: string, opener: (target: string) => Promise<unknown> = open): Promise<void> {
  say(`Opening ${target} in your browser; if none comes up, open it yourself.`);
  try {
    await opener(target);
  } catch (error) {
    say(`No browser could be opened (${error instanceof Error ? error.message : error}).`);
  }
}

const open = async (target: string) => (await import("open")).default(target);
