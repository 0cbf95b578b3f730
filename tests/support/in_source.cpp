#include "support/in_source.hpp"

namespace ohmdrag::test {

std::string in_source(std::string_view path) { return OHMDRAG_SOURCE_DIR "/" + std::string(path); }

}  // namespace ohmdrag::test
