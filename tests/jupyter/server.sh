#!/usr/bin/env bash
# A notebook server started for real: a cell is typed and run through the browser, its figure seen.
# Needs Debian's jupyter-notebook and chromium.
set -euo pipefail
cd "$(dirname "$0")/../.."

out="$PWD/out/jupyter-server"
rm -rf "$out"
mkdir -p "$out/notebooks"
export JUPYTER_DATA_DIR="$out/data"
node dist/cli/main.js kernel
# an empty notebook of that kernel
cat > "$out/notebooks/typed.ipynb" <<'NOTEBOOK'
{"cells": [{"cell_type": "code", "execution_count": null, "id": "typed", "metadata": {},
"outputs": [], "source": []}], "metadata": {"kernelspec": {"display_name": "TypeScript",
"language": "typescript", "name": "meridional"}}, "nbformat": 4, "nbformat_minor": 5}
NOTEBOOK
/usr/bin/python3 tests/jupyter/server.py "$out/notebooks" "$out"
