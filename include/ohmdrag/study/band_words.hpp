#pragma once

#include <string_view>

namespace ohmdrag::study {

/// What may be said of the reductions in radio bands, and what must be added. It stands beside
/// every table of them.
std::string_view band_statement();

}  // namespace ohmdrag::study
