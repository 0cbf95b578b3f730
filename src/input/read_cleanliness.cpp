#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "input/case_reader.hpp"
#include "input/material_reader.hpp"

namespace ohmdrag::input {

/// Only bearings ask for it: without any, what is stated is checked and dropped.
void CaseReader::read_cleanliness(TableReader& sump) {
  const Node& defaults = tables_.section("oil_cleanliness");
  study::OilCleanliness oil;
  oil.assumed = !sump.has("cleanliness");
  const std::string id = oil.assumed ? defaults.find("class")->text
                                     : known_id(sump, "cleanliness", entry_ids({"cleanliness"}),
                                                "class of cleanliness");
  static const std::vector<std::string> additives{"none", "proven"};
  oil.proven_ep_additive = sump.word("ep_additive", additives, false) == "proven";
  const auto read = [&](const std::string& name) {
    const std::optional<Node> node = entry("cleanliness", name);
    return node ? std::optional(
                      read_cleanliness_class(context_, *node, tables_.entry("cleanliness", name)))
                : std::nullopt;
  };
  const auto usual = read(id);
  if (!usual || out_.bearings.empty()) return;
  oil.usual = *usual;
  oil.with_debris = read(usual->dirtier);
  TableReader table{context_, &defaults, "oil_cleanliness"};
  oil.within_class = table.number<double>("within_class");
  if (oil.assumed && root_.find("duty"))
    warn(
        fmt::format("The cleanliness of the oil is assumed: class {}, {}. Write cleanliness below "
                    "[sump]; ohmdrag list cleanliness shows the classes.",
                    oil.usual.id, oil.usual.title));
  out_.sump.cleanliness = std::move(oil);
}

/// What no variant does needs no draws.
void CaseReader::settle_debris() {
  auto& oil = out_.sump.cleanliness;
  if (!oil) return;
  const bool any = std::ranges::any_of(out_.variants, [](const study::Variant& variant) {
    return variant.grounding && variant.grounding->debris_reaches_oil;
  });
  if (!any) oil->with_debris.reset();
  if (any && !oil->with_debris)
    warn(
        fmt::format("Debris of a grounding element reaches the oil, but no class is dirtier than "
                    "{}: it shows in no figure.",
                    oil->usual.id));
}

}  // namespace ohmdrag::input
