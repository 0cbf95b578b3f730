#include "ohmdrag/report/json.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>

#include "report/json_rows.hpp"
#include "report/text.hpp"

namespace ohmdrag::report {
namespace {

Json case_of(const study::Findings& findings) {
  Json includes = Json::array();
  for (const auto& [file, sha256] : findings.includes)
    includes.push_back({{"file", file}, {"sha256", sha256}});
  return {{"title", findings.title},         {"question", findings.question},
          {"invented", findings.invented},   {"baseline", findings.baseline},
          {"file", findings.file},           {"sha256", findings.sha256},
          {"includes", std::move(includes)}, {"changes", findings.changes},
          {"seed", findings.seed},           {"samples", findings.samples},
          {"points", findings.points},       {"duties", findings.duties}};
}

Json edition_of(const study::Findings& findings) {
  return {{"for", findings.reader},
          {"sealed_keys", findings.sealed_keys},
          {"sealed_sha256", word_or_null(findings.sealed_sha256)}};
}

Json variants_of(const study::Findings& findings) {
  using study::VariantFindings;
  const auto filled = [&](auto VariantFindings::*section) {
    return findings.trade ||
           std::any_of(findings.variants.begin(), findings.variants.end(),
                       [&](const VariantFindings& v) { return !(v.*section).empty(); });
  };
  Json out = Json::array();
  for (const VariantFindings& variant : findings.variants) {
    Json one = {{"id", variant.id}, {"title", variant.title}};
    const auto add = [&](const char* name, auto VariantFindings::*section) {
      if (filled(section)) one[name] = list(variant.*section);
    };
    add("budget", &VariantFindings::budget);
    if (variant.watts_over_speed) one["watts_over_speed"] = to(*variant.watts_over_speed);
    add("account", &VariantFindings::account);
    if (std::ranges::any_of(findings.variants, [](const auto& v) { return !v.split.empty(); }))
      one["split"] = list(variant.split);
    add("service", &VariantFindings::service);
    add("harm", &VariantFindings::harm);
    add("energy", &VariantFindings::energy);
    add("energy_totals", &VariantFindings::energy_totals);
    if (std::ranges::any_of(findings.variants, [](const auto& v) { return !v.trips.empty(); }))
      one["trips"] = list(variant.trips);
    add("courses", &VariantFindings::courses);
    add("voltage", &VariantFindings::voltage);
    if (variant.strike_map) one["strike_map"] = to(*variant.strike_map);
    add("life", &VariantFindings::life);
    if (variant.life_system) one["life_system"] = to(*variant.life_system);
    if (variant.years) one["years"] = to(*variant.years);
    add("requirements", &VariantFindings::requirements);
    out.push_back(std::move(one));
  }
  return out;
}

std::string serialized(const Json& document) {
  return escaped_for_terminal(
             document.dump(2, ' ', false, nlohmann::json::error_handler_t::replace)) +
         '\n';
}

}  // namespace

Json document_of(const study::Findings& findings) {
  Json out = {{"schema", findings.schema},
              {"version", findings.version},
              {"command", findings.command},
              {"case", case_of(findings)},
              {"variants", variants_of(findings)}};
  if (!findings.reader.empty()) out["edition"] = edition_of(findings);
  if (!findings.watt_worth.empty()) out["watt_worth"] = list(findings.watt_worth);
  if (!findings.density_statements.empty())
    out["current_density_statements"] = list(findings.density_statements);
  if (findings.trade) out["trade"] = to(*findings.trade);
  if (findings.stability) out["stability"] = to(*findings.stability);
  if (!findings.first_order.empty()) out["first_order"] = list(findings.first_order);
  if (!findings.no_first_order.empty()) out["no_first_order"] = findings.no_first_order;
  if (findings.sensitivity) out["sensitivity"] = to(*findings.sensitivity);
  if (findings.window) out["window"] = to(*findings.window);
  out["assumptions"] = list(findings.assumptions);
  out["assumed_share"] = findings.headline.empty() ? Json() : number(findings.assumed_share);
  out["headline"] = word_or_null(findings.headline);
  out["assumed_share_of_benefit"] =
      findings.headline_of_benefit.empty() ? Json() : number(findings.assumed_share_of_benefit);
  out["headline_of_benefit"] = word_or_null(findings.headline_of_benefit);
  out["cautions"] = findings.cautions;
  return out;
}

std::string json(const study::Findings& findings) { return serialized(document_of(findings)); }

std::string json_table(const std::string& kind, const std::vector<std::string>& heads,
                       const std::vector<std::vector<std::string>>& rows) {
  if (std::set<std::string>(heads.begin(), heads.end()).size() != heads.size())
    throw std::invalid_argument("list: two heads are equal");
  Json lines = Json::array();
  for (const auto& row : rows) {
    if (row.size() != heads.size())
      throw std::invalid_argument("list: a row has " + std::to_string(row.size()) +
                                  " cells under " + std::to_string(heads.size()) + " heads");
    Json line = Json::object();
    for (std::size_t i = 0; i < heads.size(); ++i) line[heads[i]] = row[i];
    lines.push_back(std::move(line));
  }
  return serialized({{"schema", "ohmdrag-list/1"}, {"kind", kind}, {"rows", std::move(lines)}});
}

}  // namespace ohmdrag::report
