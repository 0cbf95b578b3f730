#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <memory>
#include <utility>

#include "input/run_reading.hpp"
#include "ohmdrag/study/unit_drag_run.hpp"

namespace ohmdrag::input {

namespace {

/// One pass over [run] of a unit whose drag was measured.
class UnitDragReader {
 public:
  explicit UnitDragReader(RunReading& reading) : reading_(reading), run_(reading.run) {}

  study::UnitDragLog read() {
    read_case();
    read_instrument();
    read_builds();
    reading_.problems.throw_if_any();
    read_logs();
    reading_.problems.throw_if_any();
    out_.head = reading_.head;
    return std::move(out_);
  }

 private:
  /// One of the ids; the only one, where the run names none.
  std::string named(std::string_view key, const std::vector<std::string>& ids) {
    if (!run_.has(key) && ids.size() == 1) return ids.front();
    std::string id = run_.text(key);
    if (run_.has(key) && std::ranges::find(ids, id) == ids.end())
      run_.complain(key, fmt::format("read \"{}\", but the case has no such {}", id, key),
                    suggestion(id, ids));
    return id;
  }

  void read_case() {
    study::Case question = case_of_run(reading_, run_);
    std::vector<std::string> variants, shafts;
    for (const study::Variant& variant : question.variants) variants.push_back(variant.id);
    for (const study::Shaft& shaft : question.shafts) shafts.push_back(shaft.id);
    out_.variant = named("variant", variants);
    out_.shaft = named("shaft", shafts);
    reading_.problems.throw_if_any();
    out_.question = std::make_shared<const study::Case>(std::move(question));
  }

  void read_instrument() {
    if (run_.has("calibration")) {
      const auto factor = run_.number<double>("calibration");
      if (!(factor.mid() > 0.0)) {
        run_.complain("calibration", "expected a factor above zero, \"1 ± 0.5 %\"");
        return;
      }
      factor_ = factor.mid();
      out_.calibration = standard_uncertainty(factor.spread.interval()) / factor.mid();
    }
    if (run_.has("noise")) {
      out_.noise = run_.number<Torque>("noise").nominal();
      if (!(out_.noise->value() > 0.0))
        run_.complain("noise", "expected a torque above zero; leave it out if nobody knows it");
    }
  }

  void read_builds() {
    const std::vector<std::string> known = study::drag_parts(*out_.question, out_.variant);
    for (TableReader& table : run_.tables("build")) {
      study::DragBuild build{table.text("id"), table.texts("parts")};
      for (const std::string& part : build.parts)
        if (std::ranges::find(known, part) == known.end())
          table.complain(
              "parts",
              fmt::format("read \"{}\", but variant {} has no such part", part, out_.variant),
              suggestion(part, known));
      if (!table.has("parts")) table.missing("parts", "the parts that are in, a list of texts");
      table.maybe_text("log");
      table.done();
      out_.builds.push_back(std::move(build));
      logs_.push_back(table);
    }
    if (out_.builds.empty()) out_.builds.push_back({"complete", known});
  }

  void read_logs() {
    TableReader columns = run_.required_table("columns");
    const bool by_word = columns.has("build");
    const bool own_logs = std::ranges::any_of(logs_, [](TableReader& t) { return t.has("log"); });
    if (own_logs && (by_word || run_.has("log")))
      run_.complain("log", "expected one log with a column build, or a log in every [[run.build]]");
    else if (!own_logs && !by_word && out_.builds.size() > 1)
      columns.missing("build",
                      "the column that names the build of a row, or a log in every "
                      "[[run.build]]");
    if (columns.has("torque") == columns.has("power"))
      columns.complain({}, "expected exactly one of torque and power");
    reading_.problems.throw_if_any();
    if (own_logs)
      for (std::size_t b = 0; b < logs_.size(); ++b) read_log(logs_[b], columns, b);
    else
      read_log(run_, columns, by_word ? std::nullopt : std::optional<std::size_t>(0));
    columns.done();
  }

  /// \param build  of all rows; none: a column names it
  void read_log(TableReader& named, TableReader& columns, std::optional<std::size_t> build) {
    const bool power = columns.has("power");
    std::vector<MappedColumn> mapped{
        {.key = "speed", .dimension = Dimension::rotational_speed},
        {.key = "oil_temperature", .dimension = Dimension::temperature},
        {.key = power ? "power" : "torque",
         .dimension = power ? Dimension::power : Dimension::torque}};
    if (!build) mapped.push_back({.key = "build", .words = true});
    const auto table = read_run_log(reading_, named, columns, mapped);
    if (!table) return;
    for (std::size_t i = 0; i < table->rows(); ++i) {
      const std::size_t b = build ? *build : build_named(columns, table->words[3][i]);
      const auto speed = AngularVelocity::from_value(table->columns[0][i]);
      // The fit refuses a shaft at rest, in words.
      const double over = power && speed.value() != 0.0 ? speed.value() : 1.0;
      out_.readings.push_back({b, speed, Temperature::from_value(table->columns[1][i]),
                               Torque::from_value(table->columns[2][i] / over / factor_)});
    }
  }

  std::size_t build_named(TableReader& columns, const std::string& word) {
    const auto found = std::ranges::find(out_.builds, word, &study::DragBuild::id);
    if (found != out_.builds.end()) return static_cast<std::size_t>(found - out_.builds.begin());
    if (std::ranges::find(strangers_, word) == strangers_.end()) {
      strangers_.push_back(word);
      std::vector<std::string> ids;
      for (const study::DragBuild& build : out_.builds) ids.push_back(build.id);
      columns.complain(
          "build", fmt::format("read \"{}\" in the log, but there is no such [[run.build]]", word),
          suggestion(word, ids));
    }
    return 0;
  }

  RunReading& reading_;
  TableReader& run_;
  std::vector<TableReader> logs_;  ///< of the builds
  std::vector<std::string> strangers_;
  double factor_ = 1.0;  ///< indicated over true torque
  study::UnitDragLog out_;
};

}  // namespace

RunFit read_unit_drag_run(RunReading& reading) {
  return [log = UnitDragReader(reading).read()] { return study::fit_run(log); };
}

}  // namespace ohmdrag::input
