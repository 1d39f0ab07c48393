import { InputError } from "../../results/index.js";

/** A page makes no pages. */
export function startPageThread(): never {
  throw new InputError("a page of a notebook requires Node.js, got a page; use the command line");
}
