#pragma once

#include <string>
#include <vector>

#include "ohmdrag/rig/friction_findings.hpp"

namespace ohmdrag::rig {

/// What the rows of a table come to, with remarks on what was left out and what disagrees.
struct ReadPoints {
  std::vector<FrictionPoint> points;
  std::vector<std::string> conditions, warnings;
};

/// Settled readings out of rows or, of samples over time, out of their steady windows.
/// \param name  of the log, for words
/// \throws std::invalid_argument as friction_findings()
ReadPoints points_of(const FrictionTable& table, const std::string& name);

}  // namespace ohmdrag::rig
