#!/usr/bin/env bash
# Every notebook in real Jupyter: executed through the registered kernel, its outputs compared with
# those saved in the file, then converted to HTML and opened in a headless browser, where every
# figure must be visible and nothing may be an error.
# Needs Debian's jupyter-nbconvert, jupyter-client, python3-ipykernel and chromium.
set -euo pipefail
cd "$(dirname "$0")/../.."

[ -f dist/cli/main.js ] || npm run --silent build
out=out/jupyter
rm -rf "$out"
mkdir -p "$out/executed" "$out/html"
# a kernel folder of its own, so that the user's is left alone
export JUPYTER_DATA_DIR="$PWD/$out/data"
node dist/cli/main.js kernel

notebooks=("$@")
[ "${#notebooks[@]}" -gt 0 ] || notebooks=(notebooks/*.ipynb)

jupyter nbconvert --log-level WARN --to notebook --execute --ExecutePreprocessor.timeout=900 \
  --output-dir "$out/executed" "${notebooks[@]}"
# the saved files, as a reader without a kernel sees them
jupyter nbconvert --log-level WARN --to html --output-dir "$out/html" "${notebooks[@]}"
node tests/jupyter/check.mjs "$out" "${notebooks[@]}"

# a cell that fails stops what follows, unless the sender says that it should not
cat > "$out/fails.ipynb" <<'NOTEBOOK'
{"cells": [
{"cell_type": "code", "execution_count": null, "id": "a", "metadata": {}, "outputs": [], "source": ["throw new Error(\"planted\")"]},
{"cell_type": "code", "execution_count": null, "id": "b", "metadata": {}, "outputs": [], "source": ["console.log(\"went on\")"]}],
"metadata": {"kernelspec": {"display_name": "TypeScript", "language": "typescript", "name": "meridional"}},
"nbformat": 4, "nbformat_minor": 5}
NOTEBOOK
jupyter nbconvert --log-level ERROR --to notebook --execute --allow-errors --output went-on.ipynb "$out/fails.ipynb"
grep -q 'went on\\n' "$out/went-on.ipynb"
if jupyter nbconvert --log-level CRITICAL --to notebook --execute --output stops.ipynb "$out/fails.ipynb" 2>/dev/null; then
  echo "a failed cell did not stop the notebook"
  exit 1
fi
echo "a failed cell stops what follows, and does not with --allow-errors"
