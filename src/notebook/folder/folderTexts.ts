import { caution } from "../../results/index.js";

/** package.json of a researcher's project; the overrides are what danfojs needs, once added. */
export function manifest(name: string, source: string): object {
  return {
    name,
    private: true,
    type: "module",
    scripts: {
      start: "meridional study protocol.json --out out",
      notebooks: "meridional notebooks",
      kernel: "meridional kernel",
      audit: "meridional audit",
      clear: "meridional notebooks --clear",
    },
    dependencies: { meridional: source },
    overrides: {
      xlsx: "npm:xlsx@0.18.5",
      "@tensorflow/tfjs-node": "npm:@tensorflow/tfjs@3.21.0",
    },
  };
}

export function readme(name: string): string {
  return `# ${name}

> ${caution}

Two commands, after \`npm install\`:

- \`npm start\` runs the study of protocol.json and writes the report to out/;
- \`npm run notebooks\` runs the notebooks from top to bottom, without a server.

The data that come with this folder are invented; they are there to see both commands work. To use
your own: put the files into data/, look for identifiers with \`npm run audit -- data/FILE\`, say in
columns-readings.json and columns-findings.json which column holds what, and in protocol.json what
was decided before looking.

To type in notebooks: \`npm run kernel\` once, then open them with Jupyter and choose the kernel
"TypeScript (meridional)". To slice by hand with danfojs: \`npm install danfojs-node@1.2.0\`.

## Before a commit

- Data stay out of version control: data/.gitignore keeps out everything in data/ but its README.
- Outputs saved in a notebook may show a mark or a row per eye of real children. Remove them with
  \`npm run clear\` before a commit.
- out/ is ignored; look at what you share from it, and with whom.
`;
}

export const ignore = `node_modules/
out/
.ipynb_checkpoints/
`;

export const dataIgnore = `*
!.gitignore
!README.md
`;

export const dataReadme = `# data

Nothing in this folder but this page goes into version control.

| file | what |
|---|---|
| invented-readings.csv | invented: dry readings of children who do not exist, one row an eye |
| invented-findings.csv | invented: the cycloplegic findings of the same children, one row an eye |

Columns: \`child\` (a study number), \`eye\` (right, left), \`sphere\` and \`cylinder\` in dioptres
(minus cylinder), \`axis\` in degrees, \`age_months\`, \`status\` (readings: measured, over-range,
under-range, unreadable, not-attempted). Empty: no value.

Of your own files, write down here: source, who may use them and until when, columns with units and
codes, known faults. Bring no names, dates of birth, addresses or record numbers into this folder.
`;
