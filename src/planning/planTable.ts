import type { TableCell, TableColumn, TableModel } from "../results/index.js";
import { grouped } from "../rows/index.js";
import type { AccuracyPlan } from "./accuracyPlan.js";
import type { AgreementPlan } from "./planAgreementStudy.js";
import type { AreaPlan } from "./planAreaStudy.js";
import type { StudyPlan } from "./planStudy.js";

/**
 * A plan as its precision table: what studies of so many children are expected to give, with the
 * answer as title, and the assumptions and the caution as notes. For item 18 of STARD 2015.
 *
 * Children and rows are whole numbers, rounded; an interval is that of a study that finds exactly the
 * expected.
 *
 * @example
 * planTable(planAgreementStudy({ expected: { sd: 0.5 }, aim: { halfWidth: 0.1 } })).title // => "Agreement study: 285 children to enrol"
 */
export function planTable(plan: StudyPlan): TableModel {
  const parts =
    plan.kind === "accuracy-plan"
      ? accuracyTable(plan)
      : plan.kind === "agreement-plan"
        ? agreementTable(plan)
        : areaTable(plan);
  return {
    kind: "table",
    title: titleOf(plan),
    columns: parts.columns,
    rows: parts.rows.map((cells) => ({ cells })),
    notes: [...parts.notes, ...plan.assumptions, plan.caution],
  };
}

interface Parts {
  readonly columns: readonly TableColumn[];
  readonly rows: readonly (readonly TableCell[])[];
  readonly notes: readonly string[];
}

function titleOf(plan: StudyPlan): string {
  const [study, verb] = {
    "accuracy-plan": ["Accuracy study", "screen"] as const,
    "agreement-plan": ["Agreement study", "enrol"] as const,
    "area-plan": ["Study of an area", "enrol"] as const,
  }[plan.kind];
  if (typeof plan.n === "number") {
    return `${study}: ${grouped(plan.n)} children to ${verb}`;
  }
  return `${study}: no number of children (${plan.n.reason})`;
}

const whole = (label: string): TableColumn => ({ label, format: "count" });
const shown = (label: string): TableColumn => ({ label, format: "proportion" });
const power: TableColumn = { label: "power", format: "percent" };

function accuracyTable(plan: AccuracyPlan): Parts {
  const rows = plan.row === "eye" ? "eyes" : "children";
  const goals = plan.aim === "goals";
  const needs = plan.needs.map(({ measure, wanted, rowCount: needed, n }) => {
    const who =
      plan.shareOfPasses !== null
        ? "passes examined"
        : `${rows} ${measure === "sensitivity" ? "with" : "without"} the condition`;
    const aim = goals ? `above ${wanted}` : `to ± ${Number(wanted.toPrecision(4))}`;
    return typeof needed === "number" && typeof n === "number"
      ? goals
        ? `For ${measure} ${aim} alone the power stays high enough from ${needed} ${who} on.`
        : `For ${measure} ${aim} alone: ${needed} ${who}, ${n} children to screen.`
      : `For ${measure} ${aim}: ${typeof needed === "number" ? (n as { reason: string }).reason : needed.reason}.`;
  });
  if (plan.chanceOfEnough !== null) {
    needs.push(
      `Chance that a study of this size holds the numbers needed: ${Math.round(100 * plan.chanceOfEnough)} %.`,
    );
  }
  if (typeof plan.shareOfPasses === "number") {
    needs.push(`Share of passes to examine: ${(100 * plan.shareOfPasses).toFixed(1)} %.`);
  }
  return {
    columns: [
      whole("children screened"),
      whole(`${rows} with the condition`),
      whole(`${rows} without`),
      whole("referred"),
      whole("examined"),
      shown("sensitivity"),
      shown("specificity"),
      ...(goals ? [power] : []),
    ],
    rows: plan.table.map((row) => [
      row.n,
      Math.round(row.withCondition),
      Math.round(row.withoutCondition),
      Math.round(row.referred),
      Math.round(row.examined),
      row.sensitivity,
      row.specificity,
      ...(goals ? [row.power] : []),
    ]),
    notes: needs,
  };
}

function agreementTable(plan: AgreementPlan): Parts {
  const repeats = plan.aim === "repeats";
  const within = plan.aim === "within";
  return {
    columns: [
      whole("children enrolled"),
      whole("analysed"),
      ...(repeats
        ? [shown("within-subject SD"), { label: "half-width", format: "percent" } as const]
        : [
            shown("lower limit"),
            shown("upper limit"),
            { label: "half-width", format: "number" } as const,
          ]),
      ...(within ? [power] : []),
    ],
    rows: plan.table.map((row) => [
      row.n,
      row.analysed,
      ...(repeats ? [row.withinSd] : [row.lower, row.upper]),
      row.halfWidth,
      ...(within ? [row.power] : []),
    ]),
    notes: [],
  };
}

function areaTable(plan: AreaPlan): Parts {
  const asksPower = plan.wantedPower !== null;
  const difference = plan.aim === "difference";
  return {
    columns: [
      whole("children enrolled"),
      whole("with the condition"),
      whole("without"),
      shown("area"),
      ...(difference ? [shown("difference of areas")] : []),
      ...(asksPower ? [power] : []),
    ],
    rows: plan.table.map((row) => [
      row.n,
      Math.round(row.withCondition),
      Math.round(row.withoutCondition),
      row.area,
      ...(difference ? [row.difference] : []),
      ...(asksPower ? [row.power] : []),
    ]),
    notes: [],
  };
}
