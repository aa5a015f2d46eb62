#!/usr/bin/env bash
# First frame and time to a kept set in a real browser.
set -euo pipefail
cd "$(dirname "$0")/../.."
node tests/bench/browser_bench.mjs
