/** Where a long run stands. */
export interface Progress {
  /** What is being done, in words. */
  readonly stage: string;
  /** Share done of the stage, 0 to 1. */
  readonly done: number;
}

/** What every asynchronous call takes beside its own options. */
export interface RunOptions {
  /** Stops the run; the promise is then rejected with the signal's reason. */
  readonly signal?: AbortSignal;
  readonly onProgress?: (progress: Progress) => void;
}
