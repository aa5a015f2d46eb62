#!/usr/bin/env bash
# The made-up club natively (release) and as wasm under Node, and how many times longer wasm takes (bar 9).
set -euo pipefail
cd "$(dirname "$0")/../.."
log=build/logs/sync_bench.log
cmake --build --preset native --target slipway_sync_bench >"$log" 2>&1
echo "club, native:"
build/native/slipway_sync_bench "${SLIPWAY_CLUB:-60}" | tee build/logs/sync_bench-native.log | sed 's/^/  /'
cmake --build --preset native --target slipway_memory_bench >>"$log" 2>&1
build/native/slipway_memory_bench "${SLIPWAY_CLUB:-60}" | grep -E '^bar 4[mn]|peak memory' | sed 's/^/  /'
cmake --build --preset wasm --target slipway_sync_bench >>"$log" 2>&1
echo "club, wasm under Node (flags of the app):"
node --no-experimental-fetch build/wasm/slipway_sync_bench.js "${SLIPWAY_CLUB:-60}" | tee build/logs/sync_bench-wasm.log | sed 's/^/  /'
times() { sed -n 's/^wasm 9 *merge \([0-9.]*\) ms, query \([0-9.]*\) ms.*/\1 \2/p' "build/logs/sync_bench-$1.log"; }
paste -d' ' <(times native) <(times wasm) |
  awk '{ printf "  bar 9    wasm beside native: merge %.2f, query %.2f; bar 2.00\n", $3 / $1, $4 / $2 }'
