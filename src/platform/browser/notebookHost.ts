import { InputError } from "../../results/index.js";

type MimeBundle = Readonly<Record<string, string>>;

let write: ((bundle: MimeBundle | Promise<MimeBundle>) => void) | undefined;
const unfinished = new WeakMap<MimeBundle, Promise<MimeBundle>>();

/** Who shows what cells show. A drawing comes as a promise: no cell can wait for it without a thread. */
export function showWith(given: typeof write): void {
  write = given;
}

export function kernelDisplay(): ((bundle: MimeBundle) => void) | undefined {
  const to = write;
  return to && ((bundle) => to(unfinished.get(bundle) ?? bundle));
}

/** The bundle stands for one that is whole later. */
export const drawnLater = (bundle: MimeBundle, whole: () => Promise<MimeBundle>): MimeBundle => {
  if (write !== undefined) unfinished.set(bundle, whole());
  return bundle;
};

export function frameLibrary(): never {
  throw new InputError(
    "toFrame requires danfojs, which is larger than a page may be, got a page; run the notebook in Jupyter, or look at the rows as a table",
  );
}
