#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace ohmdrag::input {

/// The kinds of case that `starter` knows: vehicle, machine, single-contact.
std::vector<std::string> starter_kinds();

/// The kinds of measured run that `starter` knows: warm-up-run.
std::vector<std::string> run_starter_kinds();

/// A commented case file to begin from, which loads as it is, or the file of a measured run, which
/// loads once the log it names lies beside it.
///
/// \throws std::invalid_argument for a kind that does not exist.
std::string starter(std::string_view kind);

}  // namespace ohmdrag::input
