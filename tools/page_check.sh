#!/usr/bin/env bash
# The local page against software from outside: a browser, axe-core, html-validate, schemathesis.
#
#   tools/page_check.sh          all of it; installs what is missing where it can
#
# Talks to loopback only. Needs node with npm, and the virtual environment of tools/check.sh.
set -euo pipefail
cd "$(dirname "$0")/.."

step() { printf '\n== page: %s\n' "$*"; }
scratch="$(mktemp -d)"
server=
finish() {
  [ -z "$server" ] || kill "$server" 2>/dev/null || true
  rm -rf "$scratch"
}
trap finish EXIT

step "packages"
if ! command -v chromedriver >/dev/null && command -v apt-get >/dev/null && [ "$(id -u)" = 0 ]; then
  apt-get update -qq
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends chromium chromium-driver fonts-dejavu-core
fi
if ! command -v npm >/dev/null && command -v apt-get >/dev/null && [ "$(id -u)" = 0 ]; then
  apt-get update -qq
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends nodejs npm
fi
wanted="$(node -p 'Object.entries(require("./tools/page/package.json").devDependencies).map(p => p.join("@")).join(" ")')"
for package in $wanted; do
  name="${package%@*}" version="${package##*@}"
  have="$(node -p "require('./tools/page/node_modules/$name/package.json').version" 2>/dev/null || true)"
  if [ "$have" != "$version" ]; then
    # shellcheck disable=SC2086 # several words on purpose
    (cd tools/page && npm install --no-save --no-package-lock --no-audit --no-fund --silent $wanted)
    break
  fi
done

step "in a browser, with axe-core"
cargo test --quiet --test main page_browser:: -- --nocapture

step "served for the other checks"
cargo build --quiet
cp data/demo/attic-lowtech.toml data/demo/prices-invented.csv "$scratch/"
program="$PWD/target/debug/quillwort"
"$program" --library "$scratch/library" serve "$scratch/attic-lowtech.toml" --port 0 >"$scratch/address" 2>"$scratch/log" &
server=$!
for _ in $(seq 150); do [ -s "$scratch/address" ] && break; sleep 0.2; done
address="$(cat "$scratch/address")"

step "html-validate: every page"
mkdir "$scratch/pages"
for path in tank list catalogue 'catalogue?words=red&placement=foreground' plants/leptochilus-pteropus sheet 'tank?units=us'; do
  curl -sSf "$address$path" >"$scratch/pages/$(tr -c 'a-z\n' '-' <<<"$path").html"
done
"$program" --library "$scratch/library" plan "$scratch/attic-lowtech.toml" --out "$scratch/plan" --start 2027-01-09 \
  >/dev/null
cp "$scratch/plan/index.html" "$scratch/pages/plan.html"
cp tools/page/htmlvalidate.json "$scratch/pages/.htmlvalidate.json"
tools/page/node_modules/.bin/html-validate "$scratch/pages"

step "schemathesis: the description and the interface"
.venv/bin/st run "${address}api/openapi.json" --phases examples,coverage,fuzzing --max-examples 12 --seed 8 \
  --checks not_a_server_error,status_code_conformance,content_type_conformance,response_schema_conformance \
  --generation-deterministic --request-timeout 30 --workers 2 --no-color

step "the program still stands, and stops when asked"
curl -sSf "${address}api/desk" >/dev/null
kill -INT "$server"
wait "$server"
server=
