import { didYouMean } from "../results/index.js";
import { namesIn } from "./node/files.js";

/** The files of a folder with one of these endings, in words, the one with the nearest name first. */
export async function filesIn(folder: string, name: string, endings: RegExp): Promise<string> {
  const names = await namesIn(folder).catch(() => null);
  if (names === null) return `there is no folder ${folder}`;
  return didYouMean(name, names.filter((one) => endings.test(one)).sort());
}
