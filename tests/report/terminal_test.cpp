#include "ohmdrag/report/terminal.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>

#include "ohmdrag/quantity/print.hpp"
#include "ohmdrag/report/json.hpp"
#include "ohmdrag/report/units.hpp"
#include "report/text.hpp"
#include "sample_findings.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using Json = nlohmann::json;
using report::TerminalOptions;

namespace {

bool contains(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> out;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) out.push_back(line);
  return out;
}

struct Contents {
  std::vector<double> numbers;
  std::string words;
};

void gather(const Json& node, Contents& out) {
  if (node.is_number())
    out.numbers.push_back(node.get<double>());
  else if (node.is_string())
    out.words += node.get<std::string>() + ' ';
  else if (node.is_structured())
    for (const Json& child : node) gather(child, out);
}

/// Half a unit of the last printed place; zeros before the point may be rounding.
double resolution(const std::string& printed) {
  const std::size_t e = printed.find_first_of("eE");
  const double scale = e == std::string::npos ? 1.0 : std::pow(10.0, std::atof(&printed[e + 1]));
  const std::string mantissa = printed.substr(0, e);
  const std::size_t point = mantissa.find('.');
  if (point != std::string::npos)
    return 0.5 * scale * std::pow(10.0, -static_cast<double>(mantissa.size() - point - 1));
  const std::size_t last = mantissa.find_last_not_of('0');
  const std::size_t zeros = last == std::string::npos ? 0 : mantissa.size() - last - 1;
  return 0.5 * scale * std::pow(10.0, static_cast<double>(zeros));
}

bool stands_in(const Contents& contents, const std::string& printed) {
  const double value = std::atof(printed.c_str());
  // Hz as Hz, kHz, MHz; a share as per cent; a joule as µJ, nJ
  for (const double scale : {1.0, 1e-3, 1e-6, 100.0, 1e6, 1e9})
    for (const double number : contents.numbers)
      if (std::abs(scale * number - value) <= resolution(printed) * (1.0 + 1e-9)) return true;
  return contains(contents.words, printed);
}

}  // namespace

TEST_CASE("every number on the terminal stands in the JSON document", "[derived]") {
  // derived: numbers that the layout itself speaks: heads "per 1000 km", "7 rungs", "1/s"
  const std::set<std::string> of_the_layout{"1000", "7", "1", "2", "3"};
  static const std::regex mark(R"(\[[0-9]+\])");  // of a footnote
  static const std::regex number(R"([-]?[0-9]+(\.[0-9]+)?([eE][-+]?[0-9]+)?)");
  for (const std::string& command : commands) {
    const study::Findings f = sample(command);
    Contents contents;
    gather(Json::parse(report::json(f)), contents);
    const std::string text = std::regex_replace(report::terminal(f, {}), mark, "");
    int checked = 0;
    for (std::sregex_iterator it(text.begin(), text.end(), number), end; it != end; ++it) {
      const std::string printed = it->str();
      if (of_the_layout.contains(printed)) continue;
      CAPTURE(command, printed);
      CHECK(stands_in(contents, printed));
      ++checked;
    }
    CHECK(checked > 30);
  }
}

TEST_CASE("headline figures are on the page of their command", "[derived]") {
  const auto shown = [](const std::string& command, const Interval& value) {
    return contains(report::terminal(sample(command), {}), print_interval(value));
  };
  CHECK(shown("budget", sample_budget(true)[2].own_W));
  CHECK(shown("budget", sample_budget(true)[2].net_W));
  CHECK(shown("budget", *sample_budget(true)[0].contact_temperature_degC));
  CHECK(shown("budget", *sample_budget(true)[0].own_end_of_service_W));
  CHECK(shown("budget", sample_service(true)[1].line_force_end_N_per_mm));
  CHECK(shown("budget", *sample_service(true)[1].worn_out_after_h));
  CHECK(shown("budget", sample_account()[0].total_W));
  CHECK(shown("budget", *sample_account()[0].idle_heat_into_sump_W));
  CHECK(shown("budget", sample_account()[1].parts[0].own_W));
  CHECK(shown("energy", *sample_worth()[0].plug_cost_over_service));
  CHECK(shown("energy", *sample_worth()[1].shaft_kWh_per_year));
  CHECK(shown("energy", *sample_energy(true)[3].battery_Wh_per_km));
  CHECK(shown("energy", *sample_trips()[0].battery_Wh_per_km));
  CHECK(contains(report::terminal(sample("energy"), {}), "Left out: line 17, column \"v\""));
  CHECK(shown("energy", *sample_energy(true)[3].range_change_km));
  CHECK(shown("ground", sample_voltage(true)[0].edge_peak_two_legs_V));
  CHECK(shown("ground", sample_voltage(true)[0].impedance_end_of_service_ohm[1].magnitude));
  CHECK(shown("ground", sample_voltage(true)[0].bands[1].reduction_dB));
  CHECK(shown("life", *sample_life(false)[0].discharge_rate_per_s));
  CHECK(shown("life", *sample_life(false)[0].combined_competing_h));
  const study::ExchangeRow exchange = sample_exchange(true);
  CHECK(shown("trade", exchange.net_W_by_point[0]));
  CHECK(shown("trade", exchange.net_W_by_point[1]));
  CHECK(shown("trade", *exchange.battery_Wh_per_km));
  CHECK(shown("trade", *exchange.kWh_per_year));
  CHECK(shown("trade", *exchange.impedance_end_of_service_ohm));
  CHECK(shown("trade", exchange.edge_peak_V));
  CHECK(shown("trade", *exchange.dose_factor));
  CHECK(shown("trade", *exchange.break_even.kWh_per_avoided_event));
}

TEST_CASE("the trade page says what the evidence bears and in that order", "[derived]") {
  const study::Findings f = sample("trade");
  const std::string text = report::terminal(f, {});
  std::size_t from = 0;
  for (const std::string& part :
       {f.title, std::string("Invented scenario"), f.question, f.baseline, std::string("Answer"),
        f.trade->chosen, f.trade->claim.sentence, f.trade->claim.missing,
        std::string("Three numbers"), std::string("doubt"),
        std::string("How much rests on assumed inputs"), std::string("net power at cruise"),
        std::string("Requirements"), std::string("Register of numbers"), std::string("Cautions"),
        std::string("Not claimed")}) {
    CAPTURE(part);
    const std::size_t at = text.find(part, from);
    REQUIRE(at != std::string::npos);
    from = at;
  }
  CHECK(
      contains(report::terminal(sample("life"), {}), "[2] " + sample_life(false)[0].flags[0].text));
}

TEST_CASE("what moves the trade and what overturns it stand on its page", "[derived]") {
  const study::Findings f = sample("trade");
  const std::string text = report::terminal(f, {});
  for (const char* part :
       {"Against it: dense-ring is the best answer in only 47.5 %", "What moves the answer",
        "contact.textile-ring-dense.friction", "all others, 113 inputs",
        "discharge dose of plain at cruise: no uncertain number moves it.", "Evidence dial",
        "stands down from dense-ring to no variant", "common-practice or better",
        "thermally unstable", "Order of the variants", "dense-ring before plain in 47.5 %",
        "What would overturn it", "0.43 standard uncertainties"}) {
    CAPTURE(part);
    CHECK(contains(text, part));
  }
  study::Findings without = f;
  without.sensitivity.reset();
  CHECK_FALSE(contains(report::terminal(without, {}), "What moves the answer"));
}

TEST_CASE("no line is wider than the page, none escapes", "[derived]") {
  const int width = GENERATE(72, 100, 160);
  for (const std::string& command : commands) {
    study::Findings f = sample(command);
    f.title = "\x1b[31mred\x1b[0m 🔧 \u202E\r\n " + std::string(10000, 'x');
    f.variants[1].title = f.title;
    f.question = f.title;
    f.cautions.push_back(f.title);
    for (const bool colour : {false, true}) {
      const std::string text = report::terminal(f, {.width = width, .colour = colour});
      CHECK(contains(text, "\x1b") == colour);
      CHECK_FALSE(contains(text, "\x1b[31m"));
      CHECK_FALSE(contains(text, "\u202E"));
      CHECK(report::harmless(text).size() > 100);
      if (!colour)
        for (const std::string& line : lines_of(text))
          CHECK(report::display_width(line) <= static_cast<std::size_t>(width));
    }
  }
}

TEST_CASE("bold is all that colour adds", "[derived]") {
  for (const std::string& command : commands) {
    const std::string plain = report::terminal(sample(command), {});
    std::string coloured = report::terminal(sample(command), {.width = 100, .colour = true});
    for (const char* code : {"\x1b[1m", "\x1b[0m"})
      for (std::size_t at; (at = coloured.find(code)) != std::string::npos;)
        coloured.erase(at, std::string(code).size());
    CHECK(coloured == plain);
    CHECK(plain == report::terminal(sample(command), {}));
  }
}

TEST_CASE("infinite, undefined and missing figures have words", "[derived]") {
  study::Findings f = sample("trade");
  f.trade->exchange[1].no_discharge = true;
  f.trade->exchange[1].dose_factor = Interval{infinity, infinity, infinity};
  f.trade->exchange[1].edge_peak_V = {not_a_number, not_a_number, not_a_number};
  const std::string text = report::terminal(f, {});
  CHECK(contains(text, "no discharge in the model"));
  CHECK_FALSE(contains(text, "inf"));
  CHECK_FALSE(contains(text, "nan"));
  CHECK(contains(text, "the variant has no grounding element"));
  const std::string life = report::terminal(sample("life"), {});
  CHECK(contains(life, "no electrical limit [1]"));
  CHECK(contains(life, "[1] Blind to peak current."));
}

TEST_CASE("empty findings still make a page", "[derived]") {
  for (const char* command : {"trade", "budget", "energy", "ground", "life", "size", ""}) {
    study::Findings f;
    f.command = command;
    CHECK_NOTHROW(report::terminal(f, {}));
    f.variants.emplace_back();
    f.trade.emplace();
    f.trade->exchange.emplace_back();
    CHECK_NOTHROW(report::terminal(f, {.width = 1}));
  }
}

TEST_CASE("lists", "[derived]") {
  const TerminalOptions options{.width = 60};
  const std::string table = report::plain_table(
      {"id", "km", "source"}, {{"wltc-3b", "23.27", "regulation"}, {"depot", "4.1", "trip log"}},
      options);
  CHECK(table ==
        "id          km  source    \n"
        "──────────────────────────\n"
        "wltc-3b  23.27  regulation\n"
        "depot      4.1  trip log  \n");
  CHECK_THROWS_AS(report::plain_table({"id"}, {{"a", "b"}}, options), std::invalid_argument);

  const std::string values = report::checked_values(
      {{"coupling.winding_rotor", "110 (77 … 143)", "pF", "assumed", "engineering form", "open"}},
      {});
  for (const char* part : {"coupling.winding_rotor", "110 (77 … 143)", "pF", "assumed"})
    CHECK(contains(values, part));
}

TEST_CASE("the list of units names every dimension and the one meaning of ±", "[derived]") {
  const std::string text = report::units_list({.width = 200});
  for (const DimensionRow& row : dimension_table()) CHECK(contains(text, std::string(row.name)));
  for (const char* part : {"N/mm", "degC", "± has one meaning everywhere: the 95 % interval."})
    CHECK(contains(text, part));
  CHECK(report::unit_rows().rows.size() == dimension_table().size());
}

TEST_CASE("a requirement is shown for all variants side by side", "[derived]") {
  study::Findings f = sample("trade");
  f.variants[1].requirements.front().is_max = false;
  const std::string text = report::terminal(f, {});
  CHECK(contains(text, "discharge-path: impedance-magnitude ≥ 60 ohm"));
  CHECK(contains(text, "[1] the variant has no grounding element"));
  CHECK(contains(text, print_interval(sample_requirements(true)[0].value)));
}

TEST_CASE("a requirement with confidence says what its share rests on", "[derived]") {
  const std::string text = report::terminal(sample("trade"), {.width = 200});
  CHECK(contains(text,
                 "80.5 % of the parts with 90 % confidence (asked: 99 % of the parts with "
                 "90 % confidence); 45.3 % confidence that 99 % do."));
  CHECK(contains(text, "In 64 states of what is not known, with 200 parts each"));
}

TEST_CASE("still ends and the first order stand beside the draws", "[derived]") {
  const std::string text = report::terminal(sample("trade"), {.width = 200});
  CHECK(contains(text, "of 2 headline figures the ends of 1 do not stand still to 2 digits"));
  CHECK(contains(text, "First order beside the draws"));
  CHECK(contains(text,
                 "Not valid here, because it bends over the uncertainty of "
                 "contact.dense-ring.friction."));
  CHECK(contains(text, "good to ± 0.05"));
  CHECK_FALSE(contains(report::terminal(sample("budget"), {.width = 200}), "First order"));
}

TEST_CASE("a phase ends with the total of its components", "[derived]") {
  const std::vector<std::string> lines =
      lines_of(report::terminal(sample("energy"), {.width = 200}));
  const auto seal = std::ranges::find_if(
      lines, [](const std::string& line) { return line.starts_with("low    seal"); });
  REQUIRE(seal != lines.end());
  const std::string& below = *(seal + 1);
  CHECK(below.starts_with("low    total"));
  for (const Interval& figure : {*sample_totals()[0].shaft_Wh_per_km,
                                 *sample_totals()[0].battery_Wh_per_km, sample_totals()[0].mean_W})
    CHECK(contains(below, print_interval(figure)));
}

TEST_CASE("parts of a split table repeat what names the row", "[derived]") {
  const std::vector<std::string> lines =
      lines_of(report::terminal(sample("energy"), {.width = 72}));
  const auto rows_of_net = std::count_if(lines.begin(), lines.end(), [](const std::string& line) {
    return line.starts_with("whole  net");
  });
  CHECK(rows_of_net > 2);  // two duties, and the first in more than one part
}
