import { type Audience, shownRows } from "../privacy/index.js";
import type { FunnelLimits } from "../programme/index.js";
import { type FigureSpec, shownTo } from "../results/index.js";
import { figureSpec } from "./figureSpec.js";
import { numericAxis, roomForMarks } from "./marks/seriesLayers.js";
import { colours, columnMm, dashed, sizes } from "./theme.js";
import { counted, grouped, number } from "./words.js";

/**
 * A share by site against the size of the site, with the limits between which chance alone keeps it. For
 * the public (default) groups with a count below 11, or one that would follow from the sum, are left out
 * and counted.
 *
 * @param funnel from `funnelLimits`
 *
 * @example
 * const columns = { decision: ["refer", "pass", "pass", "pass"], condition: [null, null, null, null], reason: Array(4).fill("not-examined"), by: { site: ["a", "a", "b", "b"] } };
 * funnelFigure(funnelLimits(describeProgramme(columns)), { audience: "journal" }).name // => "funnel-referred-by-site"
 */
export function funnelFigure(
  funnel: FunnelLimits,
  options: { readonly audience?: Audience; readonly name?: string } = {},
): FigureSpec {
  const { by, id, words, share, n, groups, limits } = funnel;
  const audience = shownTo(options.audience, funnel);
  const maySee = shownRows(
    "funnelFigure",
    groups.map(({ group, size, counted: has, share: value }) => ({
      label: group,
      n: size,
      counts: [has, size - has],
      estimate: { kind: "estimate", value, low: value, high: value, level: 0.95, method: "none" },
    })),
    true,
    audience,
  );
  const shown = groups.filter((_, at) => maySee[at]);
  const points = shown.map(({ group, size, share: value, place }) => ({
    group,
    size,
    value: 100 * value,
    place: places[place],
    text: place === "within" ? "" : group,
  }));
  const lines = limits.flatMap(({ size, low, high, outerLow, outerHigh }) => [
    { line: "low", limits: inner, size, value: 100 * low },
    { line: "high", limits: inner, size, value: 100 * high },
    { line: "outer low", limits: outer, size, value: 100 * outerLow },
    { line: "outer high", limits: outer, size, value: 100 * outerHigh },
  ]);
  const top = Math.min(100, 100 * Math.max(share, ...shown.map((one) => one.share)) * 1.6 + 5);
  const x = numericAxis(`Children of the ${by} (count)`, {
    scale: { zero: true, nice: false, ...roomForMarks },
  });
  const y = numericAxis(`${words} (%)`, { scale: { domain: [0, top], nice: false } });
  const beyond = shown.filter(({ place }) => place !== "within");
  const left = groups.length - shown.length;
  const all = `${number(100 * share, 1)} %`;
  return figureSpec({
    name:
      options.name ??
      `funnel-${id.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`)}-by-${by.toLowerCase().replace(/\W+/g, "-")}`,
    title: `${words}, by ${by}`,
    caption: `${words}, by ${by}, n = ${grouped(n)}. Line: all together, ${all}; dashed and dotted: exact binomial limits of 95 and 99.8 % about it. Beyond them: ${beyond.length} of ${shown.length}; one in 20 falls beyond the inner limits by chance.${left === 0 ? "" : ` Left out, as a count is small: ${left}.`}`,
    alt: `Funnel of ${counted(shown.length, "group", "groups")} by ${by}, n = ${grouped(n)}, all together ${all}: ${shown.map((one) => `${one.group} ${number(100 * one.share, 1)} % of ${grouped(one.size)}, ${places[one.place]}`).join("; ")}.`,
    widthMm: columnMm.oneAndHalf,
    heightMm: 75,
    isEmpty: shown.length === 0,
    spec: {
      layer: [
        {
          data: { values: lines.map((row) => ({ ...row, value: Math.min(row.value, top) })) },
          mark: { type: "line", strokeWidth: sizes.thin * 1.4, color: colours.quiet },
          encoding: {
            x: { field: "size", ...x },
            y: { field: "value", ...y },
            detail: { field: "line", type: "nominal" },
            strokeDash: {
              field: "limits",
              type: "nominal",
              scale: {
                domain: [inner, outer],
                range: [dashed("long").strokeDash, dashed("dotted").strokeDash],
              },
              legend: { title: null, orient: "top", symbolType: "stroke", symbolSize: 250 },
            },
          },
        },
        {
          data: { values: [{ value: 100 * share }] },
          mark: { type: "rule", strokeWidth: sizes.line, color: colours.ink },
          encoding: { y: { field: "value", ...y } },
        },
        {
          data: { values: points },
          mark: { type: "point", filled: true, size: 30, opacity: 1 },
          encoding: {
            x: { field: "size", ...x },
            y: { field: "value", ...y },
            color: {
              field: "place",
              type: "nominal",
              scale: {
                domain: Object.values(places),
                range: [colours.first, colours.second, colours.ink],
              },
              legend: null,
            },
            shape: {
              field: "place",
              type: "nominal",
              scale: { domain: Object.values(places), range: ["circle", "triangle-up", "diamond"] },
              legend: null,
            },
          },
        },
        {
          data: { values: points },
          mark: { type: "text", dy: -9, fontSize: sizes.small },
          encoding: {
            x: { field: "size", ...x },
            y: { field: "value", ...y },
            text: { field: "text" },
          },
        },
      ],
    },
  });
}

const inner = "95 % limits";
const outer = "99.8 % limits";
const places = {
  within: "within the limits",
  beyond: "beyond the inner limits",
  "far-beyond": "beyond the outer limits",
} as const;
