# Where web-shell/setup keeps what it fetched: TALLYROUND_CACHE in the environment, or .cache in
# this checkout.
if(DEFINED ENV{TALLYROUND_CACHE})
    set(tallyround_cache "$ENV{TALLYROUND_CACHE}")
else()
    set(tallyround_cache "${CMAKE_CURRENT_LIST_DIR}/../.cache")
endif()
get_filename_component(tallyround_cache "${tallyround_cache}" ABSOLUTE)
