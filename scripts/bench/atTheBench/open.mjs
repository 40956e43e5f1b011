// The yardstick of drawing: Plot and jsdom imported, one document made, and nothing drawn.
import * as Plot from "@observablehq/plot";
import {JSDOM} from "jsdom";

const {document} = new JSDOM("").window;
if (!document || !Plot.plot) process.exitCode = 1;
