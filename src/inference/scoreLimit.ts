/**
 * The ratio at which a falling score crosses a target, searched on the log scale from a start
 * where the score is on the other side of the target.
 */
export function scoreLimit(
  score: (ratio: number) => number,
  target: number,
  start: number,
  direction: "down" | "up",
): number {
  const step = direction === "down" ? -1 : 1;
  const beyond = (log: number) =>
    direction === "down" ? score(Math.exp(log)) >= target : score(Math.exp(log)) <= target;
  let inside = Math.log(start);
  let outside = inside + step;
  for (let width = 1; !beyond(outside); width *= 2) {
    if (width > 512) return direction === "down" ? 0 : Number.POSITIVE_INFINITY;
    inside = outside;
    outside += step * width;
  }
  for (let i = 0; i < 200 && Math.abs(outside - inside) > 1e-14; i++) {
    const middle = (inside + outside) / 2;
    if (middle === inside || middle === outside) break;
    if (beyond(middle)) outside = middle;
    else inside = middle;
  }
  return Math.exp((inside + outside) / 2);
}
