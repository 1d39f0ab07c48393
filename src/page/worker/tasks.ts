import { auditFile } from "../../cohort/index.js";
import { forgetFolder, givePackageFile, keepInMemory } from "../../platform/browser/index.js";
import { join, readText } from "../../platform/index.js";
import { ignorableWords, prepareFiles, roles } from "../../prepare/index.js";
import { defineProtocol, protocolFiles, protocolHash } from "../../protocol/index.js";
import type { RunOptions } from "../../results/index.js";
import { publishedRules } from "../../rules/index.js";
import {
  confidentialFolder,
  draftStudy,
  requireReleasable,
  runStudy,
  summaryLines,
  writeReport,
} from "../../study/index.js";
import {
  folders,
  type Outcomes,
  type StudyOutcome,
  type Task,
  type TaskName,
} from "../messages.js";
import { practiceFiles } from "./practiceFiles.js";

type TaskOf<Name extends TaskName> = Extract<Task, { readonly task: Name }>;
type Doing = Pick<RunOptions, "onProgress">;

/** Larger ones are for the command line, which reads them in parts. */
const largestFile = 50_000_000;

/** What a page's worker does: the functions behind the commands, on files in memory. */
export const tasks: {
  readonly [Name in TaskName]: (task: TaskOf<Name>, doing: Doing) => Promise<Outcomes[Name]>;
} = {
  async begin({ packageFiles }) {
    for (const [name, bytes] of packageFiles) givePackageFile(name, bytes);
    const published = Object.entries(publishedRules).map(([id, rule]) => ({
      id,
      title: rule.title,
      open: rule.kind === "rule-template" ? rule.choices : [],
    }));
    return { largestFile, published, roles, ignorable: ignorableWords };
  },

  async practice() {
    const files = await practiceFiles();
    for (const [name, text] of files) keepInMemory(join(folders.raw, name), text);
    return { names: files.map(([name]) => name) };
  },

  async prepare({ names, choices }, { onProgress }) {
    forgetFolder(folders.study);
    return prepareFiles(
      names.map((name) => join(folders.raw, name)),
      choices,
      { to: folders.study, key: folders.key, onProgress },
    );
  },

  async draft({ readings, findings }) {
    return draftStudy({
      readings: join(folders.study, readings),
      findings: join(folders.study, findings),
      folder: folders.study,
    });
  },

  async audit({ readings, findings, columns }, { onProgress }) {
    const path = (name: string) => join(folders.study, name);
    if (readings === findings) return [await auditFile(path(readings), { columns, onProgress })];
    return [
      await auditFile(path(readings), { columns, only: "readings", onProgress }),
      await auditFile(path(findings), { columns, only: "findings", onProgress }),
    ];
  },

  async check({ protocol }) {
    return { protocolHash: protocolHash(defineProtocol(protocol)) };
  },

  async study({ protocol: json }, { onProgress }) {
    const protocol = defineProtocol(json);
    keepInMemory(join(folders.study, "protocol.json"), `${JSON.stringify(json, null, 2)}\n`);
    const faults: string[] = [];
    const result = await runStudy(protocol, {
      folder: folders.study,
      onProgress,
      onFault: ({ rule, eyes, of, message }, source) => {
        faults.push(
          `${eyes} of ${of} eyes of the ${source}: ${message}. If it is right all the same, give the reason ` +
            `in step 3, where the rule ${rule} is.`,
        );
      },
    });
    const isPublic = protocol.audience === "public";
    const overlaps = isPublic ? await requireReleasable(result, folders.report) : [];
    if (!isPublic) forgetFolder(confidentialFolder(folders.report));
    const written = await writeReport(result, folders.report, {
      sources: {
        folder: folders.study,
        files: [...new Set([...protocolFiles(protocol), "protocol.json"])],
      },
      onProgress,
    });
    const html = written.includes("report.html")
      ? await readText(join(folders.report, "report.html"))
      : null;
    const { shown, benches } = html === null ? { shown: null, benches: [] } : withoutScript(html);
    return {
      summary: summaryLines(result),
      faults,
      overlaps,
      isPublic,
      shown,
      benches,
    } satisfies StudyOutcome;
  },
};

/**
 * A page within a page obeys the policy of the outer one, which knows no other script: what the report's script
 * would do, the outer page does by the same function, from the data that stand in one line of the script.
 */
function withoutScript(html: string): Pick<StudyOutcome, "shown" | "benches"> {
  const at = html.lastIndexOf("<script>");
  if (at < 0) return { shown: html, benches: [] };
  const end = html.indexOf("</script>", at);
  const data = /^const benches = (.*);$/m.exec(html.slice(at, end))?.[1];
  return {
    shown: `${html.slice(0, at)}${html.slice(end + 9)}`,
    benches: data === undefined ? [] : JSON.parse(data),
  };
}
