#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "input/case_reader.hpp"
#include "input/files.hpp"
#include "input/measured_table.hpp"
#include "ohmdrag/quantity/read.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

/// The spread of a measurement, as a factor on every torque of the table.
Uncertain<double> factor_of(TableReader& table, const Node& named) {
  const Node* spread = table.find("spread");
  Uncertain<double> factor{
      1.0, basis_from_word(named.basis).value_or(Basis::measured),
      named.source.empty() ? fmt::format("table {}", named.text) : named.source};
  factor.key = (spread ? *spread : named).origin;
  factor.read_as = std::string{"1"};
  if (!spread) return factor;
  if (!spread->is_text()) {
    table.complain("spread",
                   fmt::format("read {}; expected text such as \"± 5 %\"", spread->as_typed()));
    return factor;
  }
  const auto read = read_spread(spread->text, Dimension::ratio, 1.0);
  if (const auto* problem = std::get_if<ReadProblem>(&read)) {
    table.complain("spread", problem->what, problem->hint);
    return factor;
  }
  factor.spread = std::get<Distribution>(read);
  factor.spread.floor = std::max(factor.spread.floor, 0.0);  // a drag does not push
  factor.read_as = fmt::format("1 {}", spread->text);
  return factor;
}

}  // namespace

study::Element CaseReader::read_measured(TableReader& table, const std::string& id) {
  study::Element element;
  element.id = id;
  element.title = table.maybe_text("title").value_or(id);
  const std::vector<std::string> beyonds{"hold", "refuse"};
  const auto beyond = table.word("beyond", beyonds, false) == beyonds[1]
                          ? component::BeyondTable::refuse
                          : component::BeyondTable::hold;
  const std::string name = table.text("measured");
  const Node& named = *table.find("measured");
  const Uncertain<double> factor = factor_of(table, named);
  if (!named.is_text()) return element;

  const fs::path file = file_named_by(named);
  const auto refuse = [&](const std::string& why) {
    table.complain("measured", fmt::format("{}: {}", file.string(), why));
    return element;
  };
  std::error_code failed;
  if (fs::exists(file, failed) && !fs::is_regular_file(file, failed))
    return refuse("is no regular file; expected a CSV file");
  Problems of_file;
  const std::optional<FileText> text = read_file(file, of_file);
  if (!text) return refuse(of_file.first());
  auto& read = out_.provenance.includes;
  if (std::ranges::find(read, file.string(), &study::Provenance::Include::file) == read.end())
    read.push_back({file.string(), text->sha256});

  const auto [rows, not_read] =
      read_measured_table(text->content, file.string(), context_.problems);
  if (rows.empty()) return element;
  constexpr std::size_t enough_to_tell = 12;
  element.remark =
      fmt::format("Torque as measured: {}, {} rows, SHA-256 {}…{}", name, rows.size(),
                  text->sha256.substr(0, enough_to_tell),
                  rows.front().temperature ? "; its temperature is taken as that of the oil"
                                           : "; it names no temperature, so none acts");
  if (!not_read.empty())
    element.remark += fmt::format("; columns not read: {}", fmt::join(not_read, ", "));
  element.form = study::MeasuredElement{component::MeasuredTorque(rows, beyond), factor};
  return element;
}

}  // namespace ohmdrag::input
