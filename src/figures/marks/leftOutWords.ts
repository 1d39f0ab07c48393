import { smallestCount } from "../../privacy/index.js";

/** "3 of 20 points are not shown, because ...", or nothing where none is left out. */
export function leftOutWords(leftOut: number, of: number, noun: string): string {
  if (leftOut === 0) return "";
  const [verb, them] = leftOut === 1 ? ["is", "it"] : ["are", "them"];
  return `${leftOut} of ${of} ${noun} ${verb} not shown, because a count below ${smallestCount} could be worked out from ${them}.`;
}
