# wasm_node_program(<name> <source>...): a command line program for Node.js, run as
# `node <name>.js ARGUMENTS`. It reads and writes the machine's files and its standard streams like
# a native one, so the same source can be run both ways and the outputs compared.
function(wasm_node_program name)
    add_executable(${name} ${ARGN})
    target_link_libraries(${name} PRIVATE tallyround_flags)
    target_link_options(${name} PRIVATE -sENVIRONMENT=node -sNODERAWFS=1 -sEXIT_RUNTIME=1
                        -sALLOW_MEMORY_GROWTH=1 -sWASM_BIGINT)
    set_target_properties(${name} PROPERTIES TALLYROUND_THROWS ON
                          RUNTIME_OUTPUT_DIRECTORY ${CMAKE_BINARY_DIR}/node)
endfunction()
