#!/usr/bin/env bash
# Every check of the project, in the order in which they fail fastest.
#
#   tools/check.sh            all of it
#   tools/check.sh rust       formatting, lints, tests, documentation
#   tools/check.sh outside    the checks against software and data from outside
set -euo pipefail
cd "$(dirname "$0")/.."

venv=.venv
part="${1:-all}"

step() { printf '\n== %s\n' "$*"; }

# Python packages of the outside checks, in a virtual environment of the checkout.
python_packages() {
  if [ ! -x "$venv/bin/python" ]; then
    python3 -m venv "$venv" || {
      echo "python3 has no venv module; trying to install it" >&2
      apt-get update -qq && apt-get install -y -qq python3-venv
      python3 -m venv "$venv"
    }
  fi
  "$venv/bin/python" -m pip install --quiet --disable-pip-version-check -r tools/requirements.txt
}

rust() {
  step "formatting"
  cargo fmt --check
  step "lints"
  cargo clippy --all-targets --quiet -- -D warnings
  step "documentation"
  RUSTDOCFLAGS="-D warnings" cargo doc --no-deps --quiet
  step "tests"
  cargo test
}

# The demo tanks and the models that the tests write, given to another solver.
selection() {
  cargo test --quiet --test main select_export
  local folder tank name
  folder="$(mktemp -d)"
  for tank in data/demo/*.toml; do
    name="$(basename "$tank" .toml)"
    target/release/quillwort --library "$folder/library" fill "$tank" \
      --write-model "$folder/$name.mps" --write-solution "$folder/$name.sol" >"$folder/$name.txt"
  done
  "$venv/bin/python" tools/select_check.py target/tmp/models "$folder"
  rm -r "$folder"
}

outside() {
  step "data: our own checks, in Python"
  python3 tools/data_check.py
  step "packages for the outside checks"
  python_packages
  step "data: the Frictionless data package"
  "$venv/bin/frictionless" validate data/datapackage.json
  step "light: one tank traced photon by photon again"
  "$venv/bin/python" tools/montecarlo/light.py --check
  step "the program as a user builds it"
  cargo build --release --quiet
  step "fit: the verdicts computed anew from exported numbers"
  python3 tools/fit_recompute.py
  step "selection: our models and answers, solved again by HiGHS"
  selection
  step "the local page: a browser, axe-core, html-validate, schemathesis"
  tools/page_check.sh
  step "the drawings in a browser: no words on others, none beyond the page"
  local drawn
  drawn="$(mktemp -d)"
  if command -v chromium >/dev/null; then
    "$venv/bin/python" tools/drawing_check.py target/release/quillwort "$drawn"
  else
    echo "*** SKIPPED: chromium is missing ***" >&2
    [ "${CI:-}" != true ]
  fi
  rm -r "$drawn"
  step "the README's first command"
  local library
  library="$(mktemp -d)"
  cargo run --release --quiet -- --library "$library" fill data/demo/attic-lowtech.toml
  step "calendars read and expanded by other software"
  "$venv/bin/python" tools/calendar_check.py target/release/quillwort "$library"
  step "plans measured anew from exported numbers"
  python3 tools/plan_check.py target/release/quillwort "$library"
  rm -r "$library"
}

case "$part" in
  all) outside; rust ;;
  rust) rust ;;
  outside) outside ;;
  *) echo "usage: tools/check.sh [all|rust|outside]" >&2; exit 2 ;;
esac
step "all checks passed"
