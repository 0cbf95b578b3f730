#include "ohmdrag/report/html.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <map>
#include <nlohmann/json.hpp>

#include "ohmdrag/quantity/print.hpp"
#include "sample_findings.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using namespace ohmdrag::test;
using Catch::Matchers::Contains;
using Json = nlohmann::json;

namespace {

constexpr const char* script_of_page = "/* the page's own script */";

std::string_view data(std::string_view path) {
  static std::map<std::string, std::string, std::less<>> files{
      {"report/page.js", script_of_page}, {"report/page.js.sha256", "aGFzaA=="}};
  const auto [place, is_new] = files.try_emplace(std::string(path));
  if (is_new) {
    std::ifstream in(test::in_source("data/") + std::string(path), std::ios::binary);
    REQUIRE(in);
    place->second.assign(std::istreambuf_iterator<char>(in), {});
  }
  return place->second;
}

std::string page(const study::Findings& findings, std::vector<report::SourceFile> files = {}) {
  return report::html(findings, {data, std::move(files)});
}

std::size_t count(const std::string& text, std::string_view part) {
  std::size_t n = 0;
  for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
  return n;
}

/// What stands between two marks, after the first of them.
std::string between(const std::string& text, const std::string& from, const std::string& to) {
  const std::size_t begin = text.find(from);
  REQUIRE(begin != std::string::npos);
  const std::size_t end = text.find(to, begin + from.size());
  REQUIRE(end != std::string::npos);
  return text.substr(begin + from.size(), end - begin - from.size());
}

Json chart(const std::string& html, const std::string& id) {
  const std::string figure =
      between(html, "<figure class=chart id=\"chart-" + id + "\">", "</figure>");
  Json chart = Json::parse(between(figure, "<script type=\"application/json\">", "</script>"));
  Json values = Json::array();  // as the page's script makes them
  for (const Json& row : chart["rows"]) {
    REQUIRE(row.size() == chart["columns"].size());
    Json value = Json::object();
    for (std::size_t i = 0; i < row.size(); ++i)
      value[chart["columns"][i].get<std::string>()] = row[i];
    values.push_back(std::move(value));
  }
  chart["values"] = std::move(values);
  return chart;
}

}  // namespace

TEST_CASE("the page answers before it explains", "[report][html][derived]") {
  const study::Findings findings = sample("trade");
  const std::string html = page(findings);
  CHECK_THAT(html, Catch::Matchers::StartsWith("<!DOCTYPE html>"));
  const std::string first = between(html, "<header>", "</section>");
  REQUIRE(findings.trade);
  CHECK_THAT(first, Contains(findings.trade->chosen));
  CHECK_THAT(first,
             Contains("Claim, rung " + std::to_string(findings.trade->claim.rung) + " of 7"));
  CHECK_THAT(first, Contains("Three numbers") && Contains("doubt") &&
                        Contains("How much rests on assumed inputs"));
  std::size_t before = 0;
  for (const char* id :
       {"answer", "requirements", "exchange", "watts", "energy", "strikes", "grounding", "life",
        "forces", "moves", "register", "harm", "cautions", "method", "reproduce"}) {
    CAPTURE(id);
    const std::size_t at =
        html.find("<section id=" +
                  (std::string(id) == "answer" ? std::string(id) : '"' + std::string(id) + '"'));
    REQUIRE(at != std::string::npos);
    CHECK(at > before);
    before = at;
  }
}

TEST_CASE("a chart draws the figures of the findings, and its table prints them",
          "[report][html][derived]") {
  const study::Findings findings = sample("trade");
  const std::string html = page(findings);
  const Json drawn = chart(html, "exchange-dose");
  REQUIRE(drawn["values"].size() == findings.trade->exchange.size());
  const std::string figure =
      between(html, "<figure class=chart id=\"chart-exchange-dose\">", "</figure>");
  for (std::size_t i = 0; i < drawn["values"].size(); ++i) {
    const study::ExchangeRow& row = findings.trade->exchange[i];
    const Json& value = drawn["values"][i];
    CHECK(value["variant"] == row.variant);
    if (row.battery_Wh_per_km) {
      CHECK(value["cost"] == row.battery_Wh_per_km->mid);
      CHECK(value["cost_low"] == row.battery_Wh_per_km->low);
      CHECK(value["cost_high"] == row.battery_Wh_per_km->high);
      const std::string printed = print_interval(*row.battery_Wh_per_km);
      CHECK_THAT(figure, Contains(printed.substr(0, printed.find(' '))));
    }
    if (row.dose_factor && !row.no_discharge && !std::isfinite(row.dose_factor->high))
      CHECK(value["gain_high"].is_null());
  }
  CHECK(count(html, "<figure class=chart") == count(html, "<details class=figures open>"));
}

TEST_CASE("temperatures along a duty stand beside one another, the highest in their shade",
          "[report][html][derived]") {
  const study::Findings findings = sample("trade");
  const study::DutyCourse& course = findings.variants.back().courses.front();
  const Json drawn = chart(page(findings), "course-1");
  REQUIRE(drawn["values"].size() == course.time_s.size());
  for (std::size_t i = 0; i < course.time_s.size(); ++i) {
    const Json& value = drawn["values"][i];
    CHECK(value["time"] == course.time_s[i]);
    CHECK(value["m0"] == course.oil_degC[i]);
    CHECK(value["m2"] == course.contacts[1].mean_degC[i]);
    CHECK(value["h2"] == course.contacts[1].highest_degC[i]);
  }
  CHECK(drawn["heads"]["h2"] == "contact of grounding, highest [°C]");
}

TEST_CASE("watts over speed are a curve and, apart from it, the operating points",
          "[report][html][derived]") {
  const study::Findings findings = sample("trade");
  const study::VariantFindings& shown = findings.variants.back();
  const Json drawn = chart(page(findings), "watts-over-speed");
  const std::size_t curve = shown.watts_over_speed->rows.size();
  REQUIRE(drawn["values"].size() == curve + shown.budget.size());
  for (std::size_t i = 0; i < curve; ++i) {
    CHECK(drawn["values"][i]["own_low"] == shown.watts_over_speed->rows[i].own_W.low);
    CHECK(drawn["values"][i]["point"].is_null());
  }
  CHECK(drawn["values"][curve]["point"] == shown.budget.front().point);
}

TEST_CASE("a window is drawn with its limits, and without one the page names the command",
          "[report][html][derived]") {
  study::Findings findings = sample("trade");
  std::string html = page(findings);
  const Json drawn = chart(html, "window");
  const study::SizingFindings& window = *findings.window;
  REQUIRE(drawn["values"].size() == window.rows.size());
  CHECK(drawn["values"][1]["knob"] == window.rows[1].knob / 1e3);  // N/mm
  CHECK(drawn["values"][1]["impedance_high"] == window.rows[1].impedance_ohm->high);
  const std::string drawing = drawn["drawing"].dump();
  CHECK_THAT(drawing, Contains(window.limits[0].what) && !Contains("{{"));
  CHECK_THAT(drawing, Contains(window.limits[4].what + ": nowhere kept"));
  CHECK_THAT(html, Contains(window.verdict));
  findings.window.reset();
  html = page(findings);
  CHECK_THAT(html, Contains("<code>--with-window</code>"));
  CHECK(html.find("chart-window") == std::string::npos);
}

TEST_CASE("a working is folded in once, where its figure stands", "[report][html][derived]") {
  const study::Findings findings = sample("trade");
  const std::vector<std::string> wanted = report::workings_wanted(findings);
  CHECK(wanted.front() == "net_W:dense-ring@cruise");
  CHECK(std::ranges::find(wanted, "life_h:plain") != wanted.end());
  CHECK(std::ranges::find(wanted, "edge_peak_V:plain@cruise") == wanted.end());

  report::HtmlParts parts{data, {}};
  parts.workings = {{"net_W:dense-ring@cruise", "watts", {"a = 1 W   <b>first</b>"}, {"Nominal."}},
                    {"impedance_at_1_MHz_ohm:dense-ring@cruise", "path", {"z = 2 ohm"}, {}},
                    {"life_h:plain", "life", {"t = 3 h"}, {}}};
  const std::string html = report::html(findings, parts);
  const auto part = [&](const std::string& begin) { return between(html, begin, "</section>"); };
  CHECK_THAT(part("<section id=answer"),
             Contains("<code>a = 1 W   &lt;b&gt;first&lt;/b&gt;</code>") && Contains("Nominal.") &&
                 Contains("net_W:dense-ring@cruise: watts"));
  CHECK_THAT(part("<section id=\"grounding\""), Contains("<code>z = 2 ohm</code>"));
  CHECK_THAT(part("<section id=\"life\""), Contains("<code>t = 3 h</code>"));
  // The requirement on the impedance leads to its working.
  CHECK_THAT(part("<section id=\"requirements\""), Contains("<a href=\"#working-2\">"));
  for (const char* once : {"a = 1 W", "z = 2 ohm", "t = 3 h", "id=working-2>"})
    CHECK(count(html, once) == 1);
}

TEST_CASE("what a case says is text wherever it stands", "[report][html][derived]") {
  const std::string bad = "</script><script>alert(1)</script><b onclick='x'>\"&\xE2\x80\xAE";
  study::Findings findings = sample("trade");
  const std::size_t tags = count(page(findings), "<");
  findings.title = findings.question = bad;
  findings.changes = {bad};
  for (auto& variant : findings.variants) variant.title = bad;
  for (auto& row : findings.assumptions) row.source = bad;
  for (auto& row : findings.trade->exchange) row.verdict = bad;
  findings.variants.back().harm.front().text = bad;
  const std::string html = page(findings);
  CHECK(html.find("<script>alert") == std::string::npos);
  CHECK(html.find("<b onclick") == std::string::npos);
  CHECK(html.find("\xE2\x80\xAE") == std::string::npos);
  CHECK(count(html, "<script>") == 1);
  CHECK_THAT(html, Contains("&lt;/script&gt;&lt;script&gt;alert(1)"));
  // Not a tag more than the same page with tame words has, but for the line of changes.
  CHECK(count(html, "<") <= tags + 2 * findings.variants.size() + 4);
}

TEST_CASE("names of variants are harmless inside a chart", "[report][html][derived]") {
  study::Findings findings = sample("trade");
  findings.trade->exchange.front().variant = "</script><!--" + std::string(500, 'x');
  const Json drawn = chart(page(findings), "exchange-dose");
  const std::string name = drawn["values"][0]["variant"];
  CHECK_THAT(name, Catch::Matchers::StartsWith("</script><!--xxx"));
  CHECK(name.size() < 100);
}

TEST_CASE("the policy of the page names its one script and forbids every address",
          "[report][html][derived]") {
  const std::string html = page(sample("trade"));
  CHECK_THAT(html, Contains("default-src 'none'; script-src 'sha256-aGFzaA=='"));
  CHECK_THAT(html, Contains(std::string("<script>") + script_of_page + "</script>"));
  CHECK(html.find("src=") == std::string::npos);
  CHECK(html.find("href=\"http") == std::string::npos);
}

TEST_CASE("a file of the case is carried byte for byte", "[report][html][derived]") {
  const std::string text = "\xEF\xBB\xBF# 1 < 2 & \"x\"\r\n[study]\ttitle = \"</code>\"\n";
  const std::string html =
      page(sample("trade"), {{.name = "a.toml", .content = text, .sha256 = "11"},
                             {.name = "b.gz", .content = {"\x1f\x8b\0\xff", 4}, .sha256 = "22"},
                             {.name = "c.csv", .content = "", .sha256 = "33"}});
  CHECK_THAT(html, Contains("data-file=\"b.gz\" data-encoding=base64>H4sA/w=="));
  CHECK_THAT(html, Contains("Too large to be carried here"));
  CHECK_THAT(html, Contains("data-file=\"a.toml\""));
  const std::string plain =
      page(sample("trade"), {{.name = "a.toml", .content = "a < b & c\r\nd\n", .sha256 = "11"}});
  CHECK_THAT(plain, Contains("data-file=\"a.toml\">a &lt; b &amp; c&#13;\nd\n</code>"));
}

TEST_CASE("the same findings give the same page; findings without rows give one too",
          "[report][html][derived]") {
  CHECK(page(sample("trade")) == page(sample("trade")));
  study::Findings bare;
  bare.command = "trade";
  bare.file = "bare.toml";
  const std::string html = page(bare);
  CHECK_THAT(html, Contains("<h1>bare.toml</h1>"));
  CHECK(count(html, "<figure") == 0);
}

TEST_CASE("where nothing strikes in either, the page does not call it a gain",
          "[report][html][derived]") {
  study::Findings findings = sample("trade");
  for (auto& row : findings.trade->exchange) row.no_discharge = true;
  CHECK_THAT(page(findings), Contains("and none in the baseline either"));
  for (auto& row : findings.trade->exchange) row.no_discharge = row.variant != findings.baseline;
  CHECK_THAT(page(findings), !Contains("and none in the baseline either"));
}
