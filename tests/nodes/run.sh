#!/usr/bin/env bash
# The tests and the notebooks under other releases of Node.js than the installed one, each taken
# from npm for the time of the run. Without releases: a pinned one of every supported line but
# the installed one; 20.19 is the oldest that package.json allows. With --short six rooms that compute or ask the platform
# and the first notebook. Needs the network for npm.
set -euo pipefail
cd "$(dirname "$0")/../.."

tests=()
notebooks=()
if [ "${1:-}" = --short ]; then
  shift
  tests=(tests/{rows,refraction,accuracy,agreement,rules,platform})
  notebooks=(notebooks/01-first-look.ipynb)
fi
pinned=(20.19.6 22.23.5 24.22.1)
installed=$(node -p 'process.versions.node.split(".")[0]')
architecture=$(node -p process.arch)
[ -e dist/index.js ] || npm run --silent build

place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
[ $# -gt 0 ] && versions=("$@") || versions=("${pinned[@]}")
for version in "${versions[@]}"; do
  if [ $# -eq 0 ] && [ "${version%%.*}" = "$installed" ]; then continue; fi
  npm install --silent --no-audit --no-fund --ignore-scripts --prefix "$place/$version" \
    "node-linux-$architecture@$version"
  (
    PATH="$place/$version/node_modules/node-linux-$architecture/bin:$PATH"
    [ "$(node --version)" = "v$version" ]
    echo "Node.js $version"
    npx --no-install vitest run ${tests[@]+"${tests[@]}"}
    npm run --silent notebooks -- --check --timeout 900 ${notebooks[@]+"${notebooks[@]}"}
  )
done
