#include "ohmdrag/input/starter.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "ohmdrag/input/embedded_data.hpp"

namespace ohmdrag::input {

std::vector<std::string> starter_kinds() { return {"vehicle", "machine", "single-contact"}; }

std::vector<std::string> run_starter_kinds() {
  return {"warm-up-run",   "friction-run",       "force-run",     "impedance-run",
          "unit-drag-run", "rig-comparison-run", "endurance-run", "shaft-voltage-run"};
}

std::string starter(std::string_view kind) {
  const auto text = embedded(fmt::format("starters/{}.toml", kind));
  if (!text) throw std::invalid_argument(fmt::format("there is no starter \"{}\"", kind));
  return std::string{*text};
}

}  // namespace ohmdrag::input
