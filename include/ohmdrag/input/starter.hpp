#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace ohmdrag::input {

/// The kinds of case that `starter` knows: vehicle, machine, single-contact.
std::vector<std::string> starter_kinds();

/// A commented case file to begin from; it loads as it is.
///
/// \throws std::invalid_argument for a kind that does not exist.
std::string starter(std::string_view kind);

}  // namespace ohmdrag::input
