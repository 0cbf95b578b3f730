#include "ohmdrag/rig/run_findings.hpp"

namespace ohmdrag::rig {

RunFigure plain_figure(std::string key, std::string name, ShownIn shown, double value) {
  return {std::move(key), std::move(name), std::move(shown), RunFigure::Told{value, {}, {}}, false};
}

}  // namespace ohmdrag::rig
