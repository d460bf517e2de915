#!/usr/bin/env bash
# Makes the page's editor, one module with no further request, of CodeMirror 6 and what it rests on (all MIT), from npm:
# bash reference/build_editor.sh
# Writes the module, its licences and editor.csv (package, edition) into labeler/page/static/editor, with the checksum
# of the module, which a test compares.
set -euo pipefail
cd "$(dirname "$0")"
target=$(realpath ../labeler/page/static)/editor
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
cp editor.mjs "$work"
mkdir -p "$target"
(
  cd "$work"
  npm init -y >/dev/null
  npm install --no-audit --no-fund --ignore-scripts --silent \
    @codemirror/state@6.7.6 @codemirror/view@6.43.15 @codemirror/commands@6.11.1 esbuild@0.28.2
  node node_modules/esbuild/install.js
  node_modules/.bin/esbuild editor.mjs --bundle --format=esm --minify --target=es2022 --legal-comments=none \
    --outfile="$target/editor.js"
  echo 'package,edition,licence' >"$target/editor.csv"
  : >"$target/LICENCES.txt"
  for folder in node_modules/@codemirror/* node_modules/@lezer/* node_modules/@marijn/* node_modules/crelt \
    node_modules/style-mod node_modules/w3c-keyname; do
    name=${folder#node_modules/}
    node -p "const p=require('./$folder/package.json'); [p.name,p.version,p.license].join(',')" >>"$target/editor.csv"
    printf '%s\n\n' "$name" >>"$target/LICENCES.txt"
    cat "$folder/LICENSE" >>"$target/LICENCES.txt"
    printf '\n' >>"$target/LICENCES.txt"
  done
)
(cd "$target" && sha256sum editor.js >editor.sha256)
