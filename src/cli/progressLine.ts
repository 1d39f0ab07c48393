import type { Progress } from "../results/index.js";

/**
 * Progress on one line of the terminal; one line a stage where the output is no terminal.
 *
 * @param quietMs nothing is shown before so many milliseconds, so that short work stays silent
 */
export function progressLine(quietMs = 0): { show(progress: Progress): void; end(): void } {
  const { stderr } = process;
  const start = Date.now();
  let last = "";
  return {
    show({ stage, done }) {
      if (Date.now() - start < quietMs) return;
      if (stderr.isTTY) {
        stderr.write(`\r\x1b[K${stage} ${Math.round(done * 100)} %`);
      } else if (stage !== last) {
        stderr.write(`${stage}\n`);
      }
      last = stage;
    },
    end() {
      if (stderr.isTTY) stderr.write("\r\x1b[K");
    },
  };
}
