/** A module's address and the code that stands for what the file holds. */
export interface Standin {
  url: string;
  code: string;
}

let standin: Standin | undefined;

/** Called by Node with what `register` was given. */
export function initialize(data: Standin): void {
  standin = data;
}

/** A hook of Node's module loader: the stand-in's code for its address, all other modules as ever. */
export function load(url: string, context: unknown, nextLoad: (url: string, context: unknown) => unknown): unknown {
  return url === standin?.url ? {format: "module", source: standin.code, shortCircuit: true} : nextLoad(url, context);
}
