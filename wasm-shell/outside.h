// The calls from the program to the worker it runs in: lib_outside.js and lib_files.js
// answer them. Lengths travel as numbers; text is UTF-8 without an end mark.
#pragma once

#include <cstddef>
#include <cstdint>

extern "C" {

// lib_outside.js
double slipway_local_ms();                 // civil local milliseconds since 1970-01-01T00:00 local
double slipway_monotonic_ms();             // since the worker began
std::int32_t slipway_utc_offset_min();     // minutes east of UTC
void slipway_random(std::uint8_t* into, std::size_t count);
void slipway_hand_over(const char* name, std::size_t name_size, const std::uint8_t* bytes, std::size_t size);
void slipway_ask(std::int32_t what, std::int32_t detail);  // an Asked of web_host.h; signal: 1 beep, 2 buzz; awake: 1 or 0
void slipway_show(const char* tree, std::size_t size);
std::int32_t slipway_gl_open();            // 0: no WebGL2 here
void slipway_gl_size(std::int32_t width, std::int32_t height);

// lib_files.js: `slot` names one of the open files; below 0 is an IoStatus with its sign turned.
std::int32_t slipway_file_slot(bool beside, const char* name, std::size_t size);  // -1: no such file is kept
std::int32_t slipway_file_read(std::int32_t slot, double offset, std::uint8_t* into, std::size_t count);
std::int32_t slipway_file_write(std::int32_t slot, double offset, const std::uint8_t* bytes, std::size_t count);
std::int32_t slipway_file_truncate(std::int32_t slot, double size);
std::int32_t slipway_file_flush(std::int32_t slot);
double slipway_file_size(std::int32_t slot);
double slipway_files_handed();           // host::Lasting
double slipway_files_last();
std::int32_t slipway_files_trouble();    // an IoStatus
void slipway_files_hand_again();
}
