import type { Random } from "../inference/index.js";
import type { ChildState, EyeState } from "./childState.js";
import type { SimulationParameters } from "./parameters.js";
import { conditionLimits } from "./plainLimits.js";

/**
 * Draws a child's latent layer: age, site, both eyes' refraction, other disease.
 * The order and number of draws never depend on a parameter, so that a knob moves only its own.
 */
export function drawLatentChild(
  child: ChildState,
  random: Random,
  { population, accommodation }: SimulationParameters,
): void {
  const months = population.ageHigh - population.ageLow + 1;
  child.ageMonths = population.ageLow + Math.floor(random.uniform() * months);
  child.ageYears = child.ageMonths / 12;
  child.site = Math.floor(random.uniform() * population.sites);
  child.day = Math.floor(random.uniform() * population.days);
  child.linked = random.uniform() < population.eyesLinked;
  const anisometropic = random.uniform() < population.anisometropicShare;
  const strabismus = random.uniform();
  const opacity = random.uniform();
  const { right, left, linked } = child;
  const sphereRight = drawSphere(child.ageYears, random, population);
  const sphereOther = drawSphere(child.ageYears, random, population);
  const ownSd = anisometropic ? population.anisometropicSd : population.eyeSd;
  const sphereLeft = linked ? sphereRight : sphereOther;
  const growth = population.eyeGrowth;
  right.M = sphereRight + (ownSd + growth * Math.abs(sphereRight)) * random.normal();
  left.M = sphereLeft + (ownSd + growth * Math.abs(sphereLeft)) * random.normal();

  const shared = Math.sqrt(population.j0Correlation);
  const own = Math.sqrt(1 - population.j0Correlation);
  const tail = population.astigmatismTail;
  const scaleRight = Math.exp(tail * random.normal() - tail * tail);
  const scaleOther = Math.exp(tail * random.normal() - tail * tail);
  const j0 = random.normal();
  const j0Other = random.normal();
  const scaleLeft = linked ? scaleRight : scaleOther;
  right.J0 =
    population.j0Right + population.j0Sd * scaleRight * (shared * j0 + own * random.normal());
  left.J0 =
    population.j0Left +
    population.j0Sd * scaleLeft * (shared * (linked ? j0 : j0Other) + own * random.normal());

  const mirror = population.j45Correlation;
  const sharedOblique = Math.sqrt(Math.abs(mirror));
  const ownOblique = Math.sqrt(1 - Math.abs(mirror));
  const j45 = random.normal();
  const j45Other = random.normal();
  const sign = mirror < 0 ? -1 : 1;
  right.J45 = population.j45Sd * scaleRight * (sharedOblique * j45 + ownOblique * random.normal());
  left.J45 =
    population.j45Sd *
    scaleLeft *
    (sign * sharedOblique * (linked ? j45 : j45Other) + ownOblique * random.normal());

  const spread = Math.sqrt(Math.log(1 + accommodation.variation * accommodation.variation));
  right.factor = Math.exp(spread * random.normal() - (spread * spread) / 2);
  const factorOther = Math.exp(spread * random.normal() - (spread * spread) / 2);
  left.factor = linked ? right.factor : factorOther;
  right.quality = random.normal();
  const qualityOther = random.normal();
  left.quality = linked ? right.quality : qualityOther;

  const worst = Math.max(right.M, left.M);
  const difference = Math.abs(right.M - left.M);
  const logit =
    population.strabismusBase +
    population.strabismusHyperopia * Math.max(0, worst - 2) +
    population.strabismusAnisometropia * Math.max(0, difference - 1);
  child.strabismus = strabismus < 1 / (1 + Math.exp(-logit));
  child.opacity = opacity < population.opacityShare;
  child.affected =
    child.strabismus ||
    child.opacity ||
    worst >= conditionLimits.hyperopia ||
    Math.min(right.M, left.M) <= conditionLimits.myopia ||
    difference >= conditionLimits.anisometropia ||
    cylinderSize(right) >= conditionLimits.astigmatism ||
    cylinderSize(left) >= conditionLimits.astigmatism;
}

function cylinderSize({ J0, J45 }: EyeState): number {
  return 2 * Math.sqrt(J0 * J0 + J45 * J45);
}

/** M of an eye without its own effect: emmetropising peak, hyperopic tail, myopic tail. */
function drawSphere(
  age: number,
  random: Random,
  population: SimulationParameters["population"],
): number {
  const component = random.uniform();
  const depth = -Math.log(1 - random.uniform());
  const smoother = -Math.log(1 - random.uniform());
  const z = random.normal();
  const myopic =
    population.myopicMaximum /
    (1 + Math.exp((population.myopicAge - age) / population.myopicSpread));
  if (component < myopic) {
    const mean = population.myopicRate * (age - population.myopicOnset);
    const bounded = Math.min(population.myopicDepthHigh, Math.max(population.myopicDepthLow, mean));
    return population.myopicStart - (bounded * (depth + smoother)) / 2;
  }
  const fading = Math.exp(-age / population.peakFade);
  const peak = population.peakAdult + (population.peakInfant - population.peakAdult) * fading;
  const sd = population.peakSdAdult + (population.peakSdInfant - population.peakSdAdult) * fading;
  const hyperopic =
    population.hyperopicAdult +
    (population.hyperopicInfant - population.hyperopicAdult) *
      Math.exp(-age / population.hyperopicFade);
  const excess = component > 1 - hyperopic ? population.hyperopicExcess * depth : 0;
  return peak + sd * z + excess;
}
