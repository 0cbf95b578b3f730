#include "app/result_file.hpp"

#include <fmt/format.h>

#include <fstream>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>

#include "app/commands.hpp"

namespace ohmdrag::app {
namespace {

using Json = nlohmann::json;

/// An end that is null is infinite.
double end_of(const Json& value) {
  return value.is_null() ? std::numeric_limits<double>::infinity() : value.get<double>();
}

study::HeadlineFigure figure_of(std::string name, const Json& value) {
  study::HeadlineFigure figure{std::move(name), {}, {}};
  if (value.is_null())
    figure.why = "not in the result";
  else
    figure.value =
        Interval{end_of(value.at("low")), end_of(value.at("mid")), end_of(value.at("high"))};
  return figure;
}

/// Names as the headlines of a case have them.
study::VariantHeadlines headlines_of(const Json& row, const Json& points) {
  static const std::map<std::string, std::string> names{
      {"battery_Wh_per_km", "battery_Wh_per_km"},
      {"kWh_per_year", "kWh_per_year"},
      {"life_h", "life_h"},
      {"life_gain_h", "life_gain_h"},
      {"impedance_end_of_service_ohm", "impedance_at_1_MHz_ohm"},
      {"edge_peak_V", "edge_peak_V"},
      {"held_V", "held_V"},
      {"striking_time_share", "striking_time_share"},
      {"striking_time_share_removed", "striking_time_share_removed"},
      {"dose_factor", "dose_factor"}};
  study::VariantHeadlines variant;
  variant.variant = row.at("variant").get<std::string>();
  for (std::size_t p = 0; p < points.size(); ++p)
    variant.figures.push_back(
        figure_of(points[p].get<std::string>() + ".net_W", row.at("net_W_by_point").at(p)));
  for (const auto& [key, name] : names) variant.figures.push_back(figure_of(name, row.at(key)));
  variant.probability_best = row.at("probability_best").get<double>();
  return variant;
}

ResultFile result_of(const Json& document) {
  ResultFile result;
  const Json& asked = document.at("case");
  result.side = {asked.at("title").get<std::string>(),
                 asked.at("file").get<std::string>(),
                 asked.at("sha256").get<std::string>(),
                 document.at("version").get<std::string>(),
                 asked.at("seed").get<unsigned long long>(),
                 asked.at("samples").get<int>(),
                 asked.at("changes").get<std::vector<std::string>>()};
  for (const Json& row : document.at("trade").at("exchange"))
    result.headlines.variants.push_back(headlines_of(row, asked.at("points")));
  const Json& chosen = document.at("trade").at("chosen");
  for (std::size_t v = 0; v < result.headlines.variants.size(); ++v) {
    study::VariantHeadlines& variant = result.headlines.variants[v];
    variant.chosen = chosen == variant.variant;
    for (const Json& row : document.at("variants").at(v).at("requirements"))
      if (row.at("not_applicable").is_null() && !row.at("met").get<bool>())
        variant.requirements_missed.push_back(row.at("id").get<std::string>());
  }
  for (const Json& row : document.at("assumptions"))
    result.inputs.push_back(
        {row.at("name").get<std::string>(),
         row.at("value").get<std::string>() + ' ' + row.at("unit").get<std::string>(),
         row.at("basis").get<std::string>()});
  result.headlines.cautions = document.at("cautions").get<std::vector<std::string>>();
  return result;
}

}  // namespace

bool is_result_file(const std::filesystem::path& file) { return file.extension() == ".json"; }

ResultFile read_result(const std::filesystem::path& file) {
  std::ifstream in(file);
  if (!in) throw UsageError(fmt::format("{}: cannot be read", file.string()));
  try {
    const Json document = Json::parse(in);
    if (document.value("schema", "") != "ohmdrag-result/1" || !document.contains("trade"))
      throw UsageError(fmt::format("{}: is no result of ohmdrag trade --json", file.string()));
    return result_of(document);
  } catch (const Json::exception&) {
    throw UsageError(fmt::format("{}: is no whole result document", file.string()));
  }
}

std::vector<study::InputChange> changed_inputs(const ResultFile& before, const ResultFile& after) {
  std::map<std::string, study::InputChange> all;
  for (const ResultFile::Input& input : before.inputs) {
    study::InputChange& change = all[input.key];
    change.before = input.value;
    change.basis_before = input.basis;
  }
  for (const ResultFile::Input& input : after.inputs) {
    study::InputChange& change = all[input.key];
    change.after = input.value;
    change.basis_after = input.basis;
  }
  std::vector<study::InputChange> changes;
  for (auto& [key, change] : all) {
    if (change.before == change.after && change.basis_before == change.basis_after) continue;
    change.key = key;
    change.words_only = change.before == change.after;
    changes.push_back(std::move(change));
  }
  return changes;
}

}  // namespace ohmdrag::app
