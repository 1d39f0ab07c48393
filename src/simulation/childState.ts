/** One eye while its child is being drawn; reused from child to child. */
export interface EyeState {
  /** Latent refraction, accommodation fully relaxed. */
  M: number;
  J0: number;
  J45: number;
  /** Multiplies the shift of accommodation. */
  factor: number;
  /** How well this eye is read, whenever it is tried: standard normal. */
  quality: number;
}

/** One child while it is being drawn; reused from child to child. */
export interface ChildState {
  ageMonths: number;
  ageYears: number;
  site: number;
  /** What all readings of the site are shifted by, D. */
  siteShift: number;
  day: number;
  /** Whether the two eyes share the child's effects. */
  linked: boolean;
  right: EyeState;
  left: EyeState;
  strabismus: boolean;
  opacity: boolean;
  /** Outside the generator's own plain limits, or with other disease; drives unreadable eyes. */
  affected: boolean;
}

/** An empty child, to be filled again and again. */
export function emptyChild(): ChildState {
  return {
    ageMonths: 0,
    ageYears: 0,
    site: 0,
    siteShift: 0,
    day: 0,
    linked: true,
    right: { M: 0, J0: 0, J45: 0, factor: 1, quality: 0 },
    left: { M: 0, J0: 0, J45: 0, factor: 1, quality: 0 },
    strabismus: false,
    opacity: false,
    affected: false,
  };
}
