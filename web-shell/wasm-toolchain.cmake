# The toolchain of the wasm preset: the Emscripten that web-shell/setup chose, and the folders of
# headers and libraries that it filled.
include(${CMAKE_CURRENT_LIST_DIR}/cache.cmake)
if(EXISTS "${tallyround_cache}/emscripten.path")
    file(READ "${tallyround_cache}/emscripten.path" emscripten_root)
    string(STRIP "${emscripten_root}" emscripten_root)
else()
    find_program(emcc_in_path emcc)
    if(NOT emcc_in_path)
        message(FATAL_ERROR "Nothing is set up in ${tallyround_cache}. Run web-shell/setup first; "
                            "if it kept things elsewhere, set TALLYROUND_CACHE to that folder.")
    endif()
    get_filename_component(emscripten_root "${emcc_in_path}" REALPATH)
    get_filename_component(emscripten_root "${emscripten_root}" DIRECTORY)
endif()

set(TALLYROUND_DEPS_INCLUDE "${tallyround_cache}/deps/include" CACHE PATH "")
set(TALLYROUND_IMGUI "${tallyround_cache}/imgui" CACHE PATH "")
set(TALLYROUND_SDL "${tallyround_cache}/sdl" CACHE PATH "")
set(TALLYROUND_PACKAGES "${tallyround_cache}/packages" CACHE PATH "node_modules with its lock")
set(TALLYROUND_FONTS "${tallyround_cache}/fonts" CACHE PATH "regular.ttf and bold.ttf")

include("${emscripten_root}/cmake/Modules/Platform/Emscripten.cmake")
