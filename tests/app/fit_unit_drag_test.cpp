// `ohmdrag fit` of a unit's drag and of partial builds, and these back into a case.

#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>

#include "fit_support.hpp"
#include "support/in_source.hpp"

using namespace ohmdrag;
using Catch::Matchers::Contains;
using nlohmann::json;
using test::check_holds;
using test::check_refused;
using test::document_of;
using test::fitted;
using test::replaced;
namespace fs = std::filesystem;

namespace {

const std::string demo = test::in_source("cases/rig/unit-drag.toml");
const std::string van = test::in_source("cases/parcel-van/case.toml");

/// The shipped run with its case named from anywhere and its log beside it.
std::string sidecar() { return replaced(test::file_text(demo), "../parcel-van/case.toml", van); }
std::string log_text() { return test::file_text(test::in_source("cases/rig/unit-drag.csv")); }

/// The rows of the log with every cell of a column changed.
template <class Change>
std::string with_column(std::size_t column, const Change& change) {
  std::string out;
  bool header = true;
  for (const std::string& line : test::lines_of(log_text())) {
    if (line.starts_with("#") || header) {
      out += line + '\n';
      header = header && line.starts_with("#");
      continue;
    }
    std::vector<std::string> cells;
    std::size_t begin = 0;
    for (std::size_t end = line.find(','); end != std::string::npos; end = line.find(',', begin)) {
      cells.push_back(line.substr(begin, end - begin));
      begin = end + 1;
    }
    cells.push_back(line.substr(begin));
    cells[column] = change(cells[column]);
    for (std::size_t i = 0; i < cells.size(); ++i) out += (i > 0 ? "," : "") + cells[i];
    out += '\n';
  }
  return out;
}

}  // namespace

TEST_CASE("the shipped strip-down gives back what its generator put in", "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  const json& parameters = document.at("parameters");
  check_holds(parameters.at("grounding_factor"), 0.8);
  check_holds(parameters.at("seal_factor"), 1.6);
  check_holds(parameters.at("rest_torque_Nm"), 0.012);
  CHECK(parameters.at("noise_Nm").at("value").get<double>() == Approx(0.0015).epsilon(0.3));
  CHECK_THAT(document.at("warnings").dump(), Contains("seal leaves the band"));
  CHECK_THAT(document.at("notes").dump(), Contains("drive-end and far-end are hardly told apart"));
  CHECK(document.at("run").at("files").at(0).at("rows") == 63);
}

TEST_CASE("at every reading of the document the parts and the rest are the measured torque",
          "[derived]") {
  const json document = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  const json& rows = document.at("tables").at("readings").at("rows");
  REQUIRE(rows.size() == 63);
  for (const json& row : rows) {
    double sum = row.at("rest_Nm");
    for (const char* part : {"seal_Nm", "grounding_Nm", "drive_end_Nm", "far_end_Nm"})
      sum += row.at(part).get<double>();
    CHECK(sum == Approx(row.at("measured_Nm").get<double>()).epsilon(1e-12));
  }
  for (const json& row : document.at("tables").at("builds").at("rows")) {
    double sum = row.at("rest_Nm");
    for (const char* part : {"seal_Nm", "grounding_Nm", "drive_end_Nm", "far_end_Nm"})
      if (!row.at(part).is_null()) sum += row.at(part).get<double>();
    CHECK(sum == Approx(row.at("measured_Nm").get<double>()).epsilon(1e-12));
  }
}

TEST_CASE("a case that includes a strip-down counts with it and names the run", "[derived]") {
  const test::Folder folder;
  const fs::path entry = folder.path() / "drag.toml";
  const test::Ran fit = test::ohmdrag({"fit", demo, "--out", entry.string()});
  CAPTURE(fit.err);
  REQUIRE(fit.status == 0);
  const std::string text = test::file_text(entry);
  CAPTURE(text);
  CHECK_THAT(text, Contains("[contact.light-lip]"));
  CHECK_THAT(text, Contains("[contact.textile-ring-dense]"));
  CHECK_THAT(text, Contains("friction = {"));

  const std::string whole = test::file_text(van);
  const std::string included =
      folder.write("included.toml", "include = [\"drag.toml\"]\n" + whole).string();
  std::string tables;  // the same below the case, as somebody would type it
  for (const std::string& line : test::lines_of(text))
    if (!line.starts_with("#")) tables += line + '\n';
  const std::string typed = folder.write("typed.toml", whole + '\n' + tables).string();
  const auto budget_of = [](const std::string& file) {
    return document_of(test::ohmdrag({"budget", file, "--json", "--set", "study.samples=8"}))
        .at("variants");
  };
  const json with_include = budget_of(included);
  CHECK(with_include == budget_of(typed));
  CHECK(with_include != budget_of(van));

  bool named = false;
  const test::Ran check = test::ohmdrag({"check", included, "--json"});
  const json checked = document_of(check);
  for (const json& row : checked.at("rows")) {
    if (row.at("key") != "contact.textile-ring-dense.friction") continue;
    named = true;
    CHECK(row.at("basis") == "measured");
    CHECK_THAT(row.at("source").get<std::string>(), Contains("run unit-drag.csv"));
  }
  CHECK(named);
}

TEST_CASE("the corrected friction makes the model's mean torque the corrected one", "[derived]") {
  // Once corrected, a second fit of the same run finds nothing more to correct.
  const test::Folder folder;
  const fs::path entry = folder.path() / "drag.toml";
  REQUIRE(test::ohmdrag({"fit", demo, "--out", entry.string()}).status == 0);
  folder.write("case.toml", "include = [\"drag.toml\"]\n" + test::file_text(van));
  folder.write("unit-drag.csv", log_text());
  const json again = document_of(fitted(
      folder, replaced(test::file_text(demo), "../parcel-van/case.toml", "case.toml"), {"--json"}));
  for (const json& row : again.at("tables").at("parts").at("rows")) {
    if (row.at("part") != "seal" && row.at("part") != "grounding") continue;
    CAPTURE(row.dump());
    CHECK(row.at("torque_Nm").at("mid").get<double>() ==
          Approx(row.at("torque_before_Nm").get<double>()).epsilon(0.05));
  }
}

TEST_CASE("the document of a strip-down follows the schema of fits", "[derived]") {
  const test::Folder documents;
  documents.write("unit-drag.json", test::ohmdrag_once({"fit", demo, "--json"}).out);
  test::check_schema_of_fits(documents);
}

TEST_CASE("every build may have a log of its own, as power, and none names a build", "[derived]") {
  const test::Folder folder;
  std::map<std::string, std::string> logs;
  for (const std::string& line : test::lines_of(log_text())) {
    if (line.starts_with("#") || line.starts_with("build,")) continue;
    const std::size_t first = line.find(',');
    const std::string build = line.substr(0, first);
    double rpm = 0.0, oil = 0.0, torque = 0.0;
    REQUIRE(std::sscanf(line.c_str() + first + 1, "%lf,%lf,%lf", &rpm, &oil, &torque) == 3);
    auto& log = logs[build];
    if (log.empty()) log = "n;oil;P\n";
    log += std::to_string(rpm) + ';' + std::to_string(oil) + ';' +
           std::to_string(torque * 1e-3 * rpm * 3.14159265358979 / 30.0) + '\n';
  }
  std::string run = replaced(sidecar(), "log = \"unit-drag.csv\"\n", "");
  for (const auto& [build, log] : logs) {
    folder.write(build + ".csv", log);
    run = replaced(run, "id = \"" + build + "\"\n",
                   "id = \"" + build + "\"\nlog = \"" + build + ".csv\"\n");
  }
  run = run.substr(0, run.find("[run.columns]")) +
        "[run.columns]\nspeed = { name = \"n\", unit = \"rpm\" }\n"
        "oil_temperature = { name = \"oil\", unit = \"degC\" }\n"
        "power = { name = \"P\", unit = \"W\" }\n";
  const json own = document_of(fitted(folder, run, {"--json"}));
  const json one = document_of(test::ohmdrag_once({"fit", demo, "--json"}));
  CHECK(own.at("run").at("files").size() == 3);
  CHECK(own.at("parameters").at("seal_torque_Nm").at("value").get<double>() ==
        Approx(one.at("parameters").at("seal_torque_Nm").at("value").get<double>()).epsilon(1e-5));
}

TEST_CASE("bad runs of a unit are refused in words", "[derived]") {
  const test::Folder folder;
  folder.write("unit-drag.csv", log_text());
  const auto [what, by, why] = GENERATE(table<std::string, std::string, std::string>({
      {"variant = \"dense-ring\"", "variant = \"dense-rin\"", "no such variant"},
      {"shaft = \"rotor\"", "shaft = \"roter\"", "no such shaft"},
      {"\"seal\", \"grounding\", \"drive-end\"", "\"seal\", \"brush\", \"drive-end\"",
       "has no such part"},
      {"id = \"no-ring\"", "id = \"without-ring\"", "there is no such [[run.build]]"},
      {"build = { name = \"build\" }\n", "", "the column that names the build"},
      {"unit = \"mN*m\"", "unit = \"N*m\"", "times that of the models"},
      {"unit = \"mN*m\"", "unit = \"W\"", "no unit of"},
      {"\"oil_degC\", unit = \"degC\"", "\"n_rpm\", unit = \"degC\"", "is the unit right"},
      {"calibration = \"1 ± 1 %\"", "calibration = \"-1\"", "calibration"},
  }));
  CAPTURE(what, by);
  check_refused(fitted(folder, replaced(sidecar(), what, by)), why);
}

TEST_CASE("bad readings of a unit are refused in words", "[derived]") {
  const test::Folder folder;
  const auto refused = [&](const std::string& log, const std::string& why) {
    folder.write("unit-drag.csv", log);
    check_refused(fitted(folder, sidecar()), why);
  };
  refused(with_column(3, [](const std::string& cell) { return '-' + cell; }), "turn the sign");
  refused(with_column(1, [](const std::string&) { return std::string("0"); }), "at rest");
  refused(with_column(0,
                      [](const std::string& cell) {
                        return cell == "bearings"   ? std::string("complete")
                               : cell == "complete" ? std::string("bearings")
                                                    : cell;
                      }),
          "has fewer parts");
  refused(with_column(3,
                      [](const std::string& cell) {
                        return std::stod(cell) > 150.0 ? std::string("150.0") : cell;
                      }),
          "stand at its end");
}

TEST_CASE("the template of a unit's run works once a case and a log lie beside it", "[derived]") {
  const test::Folder folder;
  const test::Ran fresh = test::ohmdrag({"new", "unit-drag-run"});
  REQUIRE(fresh.status == 0);
  folder.write("case.toml", test::file_text(van));
  std::string log;
  for (const std::string& line : test::lines_of(log_text())) {
    if (line.starts_with("#") || line.starts_with("complete")) continue;
    if (line.starts_with("build,"))
      log += "build,n,oil,T\n";
    else
      log +=
          (line.starts_with("no-ring") ? "complete" + line.substr(7) : "no-seal" + line.substr(8)) +
          '\n';
  }
  folder.write("unit-drag.csv", log);
  const test::Ran ran = fitted(folder, replaced(fresh.out, "unit = \"N*m\"", "unit = \"mN*m\""));
  CAPTURE(ran.err);
  CHECK(ran.status == 0);
  CHECK_THAT(ran.out, Contains("rest that no part explains"));
}
