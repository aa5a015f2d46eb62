#!/usr/bin/env bash
# The same bench natively (release) and as wasm under Node.
set -euo pipefail
cd "$(dirname "$0")/../.."
mkdir -p build/native/bench-store
rm -f build/native/bench-store/*
cmake --build --preset native --target slipway_bench >build/logs/bench.log 2>&1
echo "core, native:"
build/native/slipway_bench | sed 's/^/  /'
cmake --preset wasm-tests >>build/logs/bench.log 2>&1
cmake --build --preset wasm-tests --target slipway_bench >>build/logs/bench.log 2>&1
echo "core, wasm under Node (optimised as the tests are):"
node --no-experimental-fetch build/wasm-tests/slipway_bench.js | sed 's/^/  /'
echo "store, counted by the tests:"
cmake --preset native-sanitize >>build/logs/bench.log 2>&1
cmake --build --preset native-sanitize --target slipway_tests >>build/logs/bench.log 2>&1
build/native-sanitize/slipway_tests --no-colors=true -sf='*footprint*' | sed -n 's/^figure /  /p'
