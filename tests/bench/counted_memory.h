// How much memory a piece of work holds at once, of our own allocations and of SQLite's: counted only in the program that
// is built for it (slipway_memory_bench), because counting costs time.
#pragma once

namespace slipway::bench {

void count_sqlite();       // before its first use
void begin_peak();         // from here on
double peak_mib();         // the most at once since then, above what was held then; 0: nothing is counted in this program

}  // namespace slipway::bench
