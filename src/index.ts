// The public face: named exports only, by chapter, in the order in which the data flow.

// results: the shapes that results share
export type {
  CellFormat,
  Estimate,
  FigureSpec,
  Progress,
  RunOptions,
  Suppressed,
  TableCell,
  TableColumn,
  TableModel,
  TableRow,
  TwoByTwo,
  Undefined,
} from "./results/index.js";
export { caution, InputError } from "./results/index.js";

// refraction: the arithmetic of one eye and of two

// cohort: reading files, linking readings to findings, the participant flow
export {
  type AgeLimits,
  type ChildColumns,
  type ChildValueOptions,
  type ChildValues,
  type Coded,
  type Cohort,
  type ColumnMapping,
  type Correction,
  type CycloplegiaState,
  childValues,
  defineColumns,
  type EquivalentSource,
  type Excluded,
  type Eye,
  type EyeOutcome,
  type EyePairOptions,
  type EyePairs,
  eyePairs,
  type FindingBlock,
  type Findings,
  type FlowBox,
  type LinkOptions,
  linkCohort,
  type MeasurementStatus,
  type ParticipantFlow,
  type Problem,
  problemsByRule,
  type Quantity,
  type ReadingBlock,
  type ReadingSelection,
  type Readings,
  type ReadOptions,
  readFindings,
  readReadings,
  type Source,
  type SourceRow,
  type VerificationReason,
} from "./cohort/index.js";
// inference: intervals, distributions, seeded random numbers, resampling
export {
  type BootstrapEstimate,
  type BootstrapOptions,
  bootstrap,
  createRandom,
  meanInterval,
  type ProportionIntervalOptions,
  type ProportionMethod,
  proportionInterval,
  type Random,
} from "./inference/index.js";
// privacy: identifiers, pseudonyms, small cells
export { type SuppressionOptions, suppressSmallCells } from "./privacy/index.js";

// rules: referral rules and target conditions as data

// accuracy: how often a referral is right
export {
  type Accuracy,
  type AccuracyMeasures,
  type AccuracyOptions,
  accuracyFromCounts,
  type ConditionColumn,
  crossClassify,
  type RatioMethod,
  type Sampling,
  type SubjectColumn,
  type TestColumn,
  type UndecidablePolicy,
  type Verification,
} from "./accuracy/index.js";

// agreement: how far a reading can be trusted
export {
  type AstigmatismEllipses,
  type DoubleAngleSummary,
  doubleAngleSummary,
  type Ellipse,
  type Eyes,
  type HotellingTest,
  type LimitEstimates,
  type LimitInterval,
  type LimitsOfAgreement,
  type LimitsOptions,
  limitsOfAgreement,
  type PairedMeasurements,
  type RegionName,
  type Trend,
  type VarianceComponents,
  type VectorAgreement,
  type VectorComponents,
  vectorAgreement,
} from "./agreement/index.js";
// simulation: cohorts with known truth
export {
  type DecisionCounts,
  defaultCondition,
  defaultReferral,
  type MonteCarlo,
  type ScenarioName,
  type ScenarioTruth,
  type SimulatedChild,
  type SimulatedCohort,
  type SimulatedDecision,
  type SimulatedEye,
  type SimulatedInstrument,
  type SimulatedRules,
  type SimulatedTruth,
  type SimulationOptions,
  type SimulationOverrides,
  type SimulationParameter,
  type SimulationParameters,
  type SimulationScenario,
  scenarioTruth,
  simulateCohort,
  simulateTruth,
  simulationParameters,
  simulationScenarios,
  type TrueAccuracy,
  type TrueDifference,
  type VectorColumns,
} from "./simulation/index.js";

// thresholds: where the line is
export {
  type AreaEstimate,
  type AreaOptions,
  areaUnderCurve,
  type Condition,
  type OperatingPoint,
  type PositiveWhen,
  type RocCurve,
  rocCurve,
} from "./thresholds/index.js";

// protocol: the pre-specified choices of a study

// figures: results as figures, and their renderers
export {
  type Audience,
  astigmatismPoints,
  type DensityCell,
  type DifferenceAgainstMeanOptions,
  type DoubleAngleOptions,
  type DoubleAnglePanel,
  differenceAgainstMean,
  differencePoints,
  doubleAngle,
  type LimitsShown,
  type Mark,
  type MarkedThreshold,
  type Plotted,
  type PointOptions,
  type RenderOptions,
  type RocBand,
  type RocFigureOptions,
  render,
  rocFigure,
} from "./figures/index.js";
// tables: results as tables, and their writers
export { toCsv, toHtml, toMarkdown } from "./tables/index.js";

// study: a protocol's run and its report

// notebook: showing results in a notebook
export {
  type Frame,
  type FrameCell,
  type FrameColumn,
  fromFrame,
  show,
  toFrame,
} from "./notebook/index.js";
