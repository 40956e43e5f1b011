// %% [markdown]
// # What is the monthly yield, by hand?
//
// Text.

import {stageYields} from "../lib/yield/stageYields.ts";
// %%
import {open} from "../scripts/notebook/book.ts";
import {show} from "../scripts/notebook/show.ts";

const {histories, book, asOf} = open();
const yields = stageYields(histories, histories.pieces);
show(yields.rolledFraction, "fraction");
yields.stages;
