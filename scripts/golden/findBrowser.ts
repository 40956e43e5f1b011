import {existsSync} from "node:fs";
import {join} from "node:path";
import {type Browser, chromium} from "playwright-core";

/** Where an installed Chromium, Chrome or Edge usually lies, by platform. */
const usual: Partial<Record<NodeJS.Platform, readonly string[]>> = {
  linux: [
    "/usr/bin/chromium",
    "/usr/bin/chromium-browser",
    "/usr/bin/google-chrome",
    "/usr/bin/google-chrome-stable",
    "/usr/bin/microsoft-edge",
    "/snap/bin/chromium"
  ],
  darwin: ["Google Chrome", "Chromium", "Microsoft Edge"].map(
    (name) => `/Applications/${name}.app/Contents/MacOS/${name}`
  ),
  win32: ["ProgramFiles", "ProgramFiles(x86)", "LOCALAPPDATA"].flatMap((folder) =>
    [
      "Google/Chrome/Application/chrome.exe",
      "Microsoft/Edge/Application/msedge.exe",
      "Chromium/Application/chrome.exe"
    ].map((path) => join(process.env[folder] ?? "C:/", path))
  )
};

/** The browser that tests and pictures are made with: CHROME_PATH if set, else the first that is installed; undefined where there is none. */
export function findBrowser(): string | undefined {
  const named = process.env.CHROME_PATH;
  return named ?? usual[process.platform]?.find((path) => existsSync(path));
}

/** Starts the browser at `executablePath`, with nothing of its own that asks the network. */
export function startBrowser(executablePath: string): Promise<Browser> {
  return chromium.launch({
    executablePath,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync"
    ]
  });
}
