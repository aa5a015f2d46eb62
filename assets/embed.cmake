# Makes source files out of data files, as part of the build.
#   cmake -DKIND=assets -DOUT=file.cpp -DFILES=a;b -P embed.cmake   string literals for model/assets.h
#   cmake -DKIND=fonts  -DOUT=file.cpp -DFOLDER=dir -P embed.cmake  byte arrays for screens/fonts.h
cmake_minimum_required(VERSION 3.25)

function(byte_array name path)
  file(READ "${path}" hex HEX)
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
  set(array "const unsigned char ${name}[] = {${bytes}0};\n" PARENT_SCOPE)
  file(SIZE "${path}" size)
  set(size ${size} PARENT_SCOPE)
endfunction()

if(KIND STREQUAL "assets")
  set(arrays "")
  set(cases "")
  foreach(path IN LISTS FILES)
    get_filename_component(file_name "${path}" NAME)
    string(MAKE_C_IDENTIFIER "k_${file_name}" name)
    byte_array(${name} "${path}")
    string(APPEND arrays "${array}")
    string(APPEND cases "  if (name == \"${file_name}\") return {reinterpret_cast<const char*>(${name}), ${size}};\n")
  endforeach()
  file(WRITE "${OUT}.part" "#include \"model/assets.h\"\nnamespace {\n${arrays}}\n\nnamespace slipway::model {\n"
    "std::string_view asset(std::string_view name) {\n${cases}  return {};\n}\n}  // namespace slipway::model\n")
elseif(KIND STREQUAL "fonts")
  set(arrays "")
  set(cases "")
  foreach(pair "regular=b612_regular" "bold=b612_bold" "fallback_regular=dejavu_regular" "fallback_bold=dejavu_bold")
    string(REGEX MATCH "^(.*)=(.*)$" _ "${pair}")
    set(face ${CMAKE_MATCH_1})
    byte_array("k_${face}" "${FOLDER}/${CMAKE_MATCH_2}.ttf")
    string(APPEND arrays "${array}")
    string(APPEND cases "    case Face::${face}: return {k_${face}, ${size}};\n")
  endforeach()
  file(WRITE "${OUT}.part" "#include \"screens/fonts.h\"\nnamespace {\n${arrays}}\n\nnamespace slipway::screens {\n"
    "std::span<const unsigned char> font_file(Face face) {\n  switch (face) {\n${cases}  }\n  return {};\n}\n}  // namespace slipway::screens\n")
endif()
file(RENAME "${OUT}.part" "${OUT}")
