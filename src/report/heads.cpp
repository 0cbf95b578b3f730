#include "report/heads.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace ohmdrag::report {
namespace {

struct Ending {
  std::string_view key, unit;
};

/// The longer ending of two stands before the shorter.
constexpr std::array endings{
    Ending{"J_per_mm2_per_1000h", "J/mm² in 1000 h"},
    Ending{"J_per_mm2_per_h", "J/(mm² h)"},
    Ending{"J_per_1000km", "J in 1000 km"},
    Ending{"J_per_1000h", "J in 1000 h"},
    Ending{"mg_per_1000h", "mg in 1000 h"},
    Ending{"J_per_mm2", "J/mm²"},
    Ending{"A_per_mm2", "A/mm²"},
    Ending{"kWh_per_year", "kWh a year"},
    Ending{"Wh_per_km", "Wh/km"},
    Ending{"N_per_mm", "N/mm"},
    Ending{"per_km", "1/km"},
    Ending{"per_s", "1/s"},
    Ending{"kWh", "kWh"},
    Ending{"mps", "m/s"},
    Ending{"rpm", "1/min"},
    Ending{"degC", "°C"},
    Ending{"deg", "°"},
    Ending{"ohm", "Ω"},
    Ending{"Nm", "N·m"},
    Ending{"Hz", "Hz"},
    Ending{"dB", "dB"},
    Ending{"um", "µm"},
    Ending{"us", "µs"},
    Ending{"mm", "mm"},
    Ending{"km", "km"},
    Ending{"pF", "pF"},
    Ending{"W", "W"},
    Ending{"V", "V"},
    Ending{"A", "A"},
    Ending{"J", "J"},
    Ending{"h", "h"},
    Ending{"s", "s"},
};

std::string with_blanks(std::string_view key) {
  std::string out(key);
  std::ranges::replace(out, '_', ' ');
  return out;
}

}  // namespace

Head head_of(const std::string& key) {
  for (const Ending& ending : endings) {
    if (key == ending.key) return {std::string(ending.unit), {}};
    if (key.size() > ending.key.size() && key.ends_with(ending.key) &&
        key[key.size() - ending.key.size() - 1] == '_')
      return {with_blanks(std::string_view(key).substr(0, key.size() - ending.key.size() - 1)),
              std::string(ending.unit)};
  }
  return {with_blanks(key), {}};
}

}  // namespace ohmdrag::report
