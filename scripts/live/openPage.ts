import {say} from "../command.ts";

/**
 * Opens a page in the user's browser. Where none can be opened, as on a machine without a screen, it says so and where the page is; that
 * is no fault of the report.
 *
 * @param target a path or an address
 * @param opener the package `open`, loaded when it is needed
 */
export async function openPage(target: string, opener: (target: string) => Promise<unknown> = open): Promise<void> {
  try {
    await opener(target);
  } catch (error) {
    say(`No browser could be opened (${error instanceof Error ? error.message : error}). Open it yourself: ${target}`);
  }
}

const open = async (target: string) => (await import("open")).default(target);
