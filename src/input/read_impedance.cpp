#include <fmt/format.h>

#include <array>
#include <stdexcept>
#include <string_view>
#include <utility>
#include <vector>

#include "input/angle_units.hpp"
#include "input/case_reader.hpp"
#include "input/column_table.hpp"

namespace ohmdrag::input {

namespace {

constexpr std::array columns{MappedColumn{"frequency", Dimension::frequency},
                             MappedColumn{"magnitude", Dimension::resistance},
                             MappedColumn{"phase", Dimension::ratio, angle_units}};

std::vector<voltage::ImpedanceRow> rows_of(const ColumnTable& table) {
  std::vector<voltage::ImpedanceRow> rows;
  for (std::size_t i = 0; i < table.columns[0].size(); ++i)
    rows.push_back({Frequency::from_value(table.columns[0][i]),
                    Resistance::from_value(table.columns[1][i]), table.columns[2][i]});
  return rows;
}

}  // namespace

void CaseReader::read_film(TableReader& grounding, study::Grounding& out) {
  out.parallel_capacitance = grounding.maybe_number<Capacitance>("parallel_capacitance");
  if (!grounding.has("film")) return;
  TableReader film = grounding.required_table("film");
  out.film = study::Grounding::ContactFilm{film.number<Resistance>("resistance"),
                                           film.number<Capacitance>("capacitance")};
  film.done();
}

void CaseReader::read_impedance(TableReader& grounding, study::Grounding& out) {
  if (!grounding.has("impedance")) return;
  for (const std::string_view held : {"resistance", "film", "parallel_capacitance"})
    if (grounding.has(held))
      grounding.complain(held, "a measured impedance holds this already", "leave one of them out");
  TableReader record = grounding.required_table("impedance");
  const auto read = read_column_table(record, columns, out_.provenance);
  auto factor = record.maybe_number<double>("factor");
  record.done();
  if (!read) return;
  if (!factor) {
    factor = Uncertain<double>{1.0, Basis::measured, fmt::format("table {}", read->file)};
    factor->key = record.path() + ".factor";
    factor->read_as = std::string{"1"};
  }
  try {
    out.impedance = study::Grounding::MeasuredImpedance{voltage::measured_path(rows_of(*read)),
                                                        std::move(*factor)};
  } catch (const std::invalid_argument& error) {
    record.complain("file", fmt::format("{}: {}", read->file, error.what()));
  }
}

}  // namespace ohmdrag::input
