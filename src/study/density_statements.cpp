#include "study/sections.hpp"

namespace ohmdrag::study {

std::vector<DensityStatement> density_statements(const Case& question) {
  constexpr double m2_per_mm2 = 1e-6;
  std::vector<DensityStatement> rows;
  if (!has_electrics(question)) return rows;
  for (const DensityBand& band : question.density_bands)
    rows.push_back({band.from.value() * m2_per_mm2, band.up_to.value() * m2_per_mm2, band.statement,
                    band.basis, band.source});
  return rows;
}

}  // namespace ohmdrag::study
