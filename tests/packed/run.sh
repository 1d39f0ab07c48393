#!/usr/bin/env bash
# The packed package on a machine that has never seen this repository: installed into an empty
# folder, a researcher's folder made with it, that folder's two commands run; first without
# danfojs, then with it (pass --with-danfojs; some 500 MB more). Needs the network for npm.
set -euo pipefail
cd "$(dirname "$0")/../.."

# what "prepack" makes, also where npm is told to run no scripts
npm run --silent build
npm run --silent pages >/dev/null
node src/handbook/build.mjs >/dev/null
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
npm pack --silent --pack-destination "$place" >/dev/null
cd "$place"
echo '{"private": true}' > package.json
npm install --silent --no-audit --no-fund ./meridional-*.tgz
# what the README points at is in the package
[ -s node_modules/meridional/dist/handbook/index.html ]
npx --no-install meridional folder with-tables --notebook 05-published-tables
[ -s with-tables/notebooks/05-published-tables.ipynb ]
[ -s with-tables/data/published/accuracy.csv ]
npx --no-install meridional page with-tables/notebooks/05-published-tables.ipynb --out page.html | grep -q accuracy.csv
npx --no-install meridional folder own-study
cd own-study

began=$(date +%s)
npm install --silent --no-audit --no-fund
seconds=$(($(date +%s) - began))
echo "npm install: $seconds s"
# asked for on a quiet machine only
[ -z "${INSTALL_SECONDS:-}" ] || [ "$seconds" -lt "$INSTALL_SECONDS" ]
[ ! -e node_modules/danfojs-node ]

# the data files that lie beside the source
node --input-type=module -e '
import { scenarioTruth, simulationScenarios } from "./node_modules/meridional/dist/internal.js";
const names = Object.keys(simulationScenarios);
if (names.some((name) => scenarioTruth(name).scenario !== name)) process.exit(1);'

npm start --silent
[ -s out/report.html ]
npm run --silent notebooks -- --write
npm run --silent notebooks -- --check

# without danfojs: one line that says what to add
cat > frame.mjs <<'CELL'
import { toFrame } from "meridional";
const columns = [{ label: "M", format: "dioptres" }];
const table = { kind: "table", title: "t", columns, rows: [{ cells: [-1.25] }], notes: [] };
console.log(toFrame(table).shape.join(" x "));
CELL
without=$(node frame.mjs 2>&1 || true)
grep -q "toFrame requires danfojs" <<<"$without"

if [ "${1:-}" = --with-danfojs ]; then
  npm install --silent --no-audit --no-fund danfojs-node@1.2.0
  [ "$(node frame.mjs 2>&1)" = "1 x 1" ]
  echo "with danfojs: a frame is made, nothing else is printed"
fi
echo "the packed package works"
