# The program of the browser app: slipway.js and slipway.wasm. stage.mjs puts them beside
# the page's own files.
file(GLOB shell_files CONFIGURE_DEPENDS "${CMAKE_CURRENT_LIST_DIR}/*.cpp")
add_executable(slipway_web ${shell_files} "${SLIPWAY_IMGUI_DIR}/backends/imgui_impl_opengl3.cpp")
set_source_files_properties("${SLIPWAY_IMGUI_DIR}/backends/imgui_impl_opengl3.cpp" PROPERTIES COMPILE_OPTIONS -w)
set_source_files_properties(${shell_files} PROPERTIES COMPILE_OPTIONS "${our_warnings}")
target_include_directories(slipway_web PRIVATE "${CMAKE_CURRENT_LIST_DIR}")
target_link_libraries(slipway_web PRIVATE app imgui)
target_compile_options(slipway_web PRIVATE ${without_exceptions})
set(shell_libraries "${CMAKE_CURRENT_LIST_DIR}/lib_outside.js" "${CMAKE_CURRENT_LIST_DIR}/lib_files.js")
foreach(library ${shell_libraries})
  target_link_options(slipway_web PRIVATE "SHELL:--js-library ${library}")
endforeach()
set_target_properties(slipway_web PROPERTIES OUTPUT_NAME slipway LINK_DEPENDS "${shell_libraries}")
target_link_options(slipway_web PRIVATE -Os
  -sMODULARIZE=1 -sEXPORT_ES6=1 -sUSE_ES6_IMPORT_META=0 -sEXPORT_NAME=SlipwayModule -sENVIRONMENT=worker
  -sMIN_WEBGL_VERSION=2 -sMAX_WEBGL_VERSION=2 -sINITIAL_MEMORY=33554432 -sFILESYSTEM=0 -sDYNAMIC_EXECUTION=0
  -sEXPORTED_FUNCTIONS=_malloc,_free --no-entry)
