#include <fmt/format.h>

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "input/case_reader.hpp"

namespace ohmdrag::input {

namespace {

const std::vector<std::string> maturities{"guess", "computed", "rig", "vehicle"};
const std::vector<std::string> ways_to_split{"present", "equal-margin"};

template <class Things>
std::vector<std::string> ids(const Things& things) {
  std::vector<std::string> out;
  for (const auto& thing : things) out.push_back(thing.id);
  return out;
}

}  // namespace

/// The tables of the account: what each component may take, what all may, and what is to be shared.
/// Of two for the same place the later one holds, so that a case can overrule what it includes.
void CaseReader::read_allocations() {
  constexpr std::array<std::string_view, 2> places{"point", "duty"};
  const std::vector<std::string> points = ids(out_.points), duties = ids(out_.duties);
  const auto place = [&](TableReader& table, auto& out) {
    table.exactly_one(places);
    if (table.has("point")) out.point = known_id(table, "point", points, "operating point");
    if (table.has("duty")) out.duty = known_id(table, "duty", duties, "duty");
  };

  std::vector<std::string> components = ids_of("bearing");
  components.insert(components.end(), {"seal", "grounding"});
  for (const study::Variant& variant : out_.variants)
    for (const study::ExtraDrag& extra : variant.extras) components.push_back(extra.id);
  for (TableReader& table : top_.tables("allocation")) {
    study::Allocation out;
    out.component = known_id(table, "component", components, "component");
    place(table, out);
    out.max = table.number<Power>("max");
    out.maturity = table.word("maturity", maturities, false);
    table.done();
    out_.allocations.push_back(std::move(out));
  }

  for (TableReader& table : top_.tables("target")) {
    study::Target out;
    place(table, out);
    out.max = table.number<Power>("max");
    if (const auto share = table.maybe_plain("share_of_parts")) {
      if (!(*share > 0.0 && *share < 1.0))
        table.complain("share_of_parts",
                       fmt::format("read {}; expected more than 0 and less than 1", *share));
      out.share_of_parts = *share;
    }
    table.done();
    out_.targets.push_back(std::move(out));
  }

  for (TableReader& table : top_.tables("split")) {
    study::Split out;
    place(table, out);
    out.total = table.number<Power>("total");
    out.by = table.word("by", ways_to_split) == ways_to_split[1] ? study::SplitBy::equal_margin
                                                                 : study::SplitBy::present;
    table.done();
    out_.splits.push_back(std::move(out));
  }
}

}  // namespace ohmdrag::input
