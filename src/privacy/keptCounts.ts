/**
 * The members with at least `least`, and what all the others add up to. Where that is below `least`
 * itself, the last members follow until it is not.
 *
 * @param members from the largest to the smallest
 */
export function keptCounts<Member>(
  members: readonly Member[],
  countOf: (member: Member) => number,
  least: number,
): { readonly kept: readonly Member[]; readonly rest: number } {
  const kept = members.filter((member) => countOf(member) >= least);
  let rest = 0;
  for (const member of members) if (countOf(member) < least) rest += countOf(member);
  while (rest > 0 && rest < least && kept.length > 0) rest += countOf(kept.pop()!);
  return { kept, rest };
}
