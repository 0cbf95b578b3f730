#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <stdexcept>
#include <utility>

#include "input/files.hpp"
#include "input/log_form.hpp"
#include "input/run_reading.hpp"
#include "ohmdrag/input/trip_file.hpp"
#include "ohmdrag/study/sump_run.hpp"

namespace ohmdrag::input {

namespace fs = std::filesystem;

namespace {

/// One pass over [run] of a sump that warms up or cools.
class SumpReader {
 public:
  explicit SumpReader(RunReading& reading) : reading_(reading), run_(reading.run) {}

  study::SumpLog read() {
    read_form();
    read_heat();
    read_ambient();
    read_air();
    const Node* log = run_.find("log");
    if (!log) run_.missing("log", "the name of the log, text in quotes");
    reading_.problems.throw_if_any();
    read_log(*log);
    out_.head = reading_.head;
    return std::move(out_);
  }

 private:
  void read_form() {
    TableReader columns = run_.required_table("columns");
    if (columns.present()) {
      form_.columns.time = log_column(columns, "time");
      form_.columns.sump_temperature = log_column(columns, "sump_temperature");
      form_.standing = !columns.has("speed");
      if (!form_.standing) form_.columns.speed = log_column(columns, "speed");
      form_.columns.ambient_temperature = maybe_log_column(columns, "ambient_temperature");
      form_.columns.shaft_speed = maybe_log_column(columns, "shaft_speed");
      form_.columns.torque = maybe_log_column(columns, "torque");
      form_.columns.heat = maybe_log_column(columns, "heat");
      columns.done();
    }
    form_.separator = log_separator(run_);
    form_.decimal = log_decimal(run_);
    reading_.problems.throw_if_any();
    try {
      const duty::TripReader sound(form_);
    } catch (const std::invalid_argument& error) {
      run_.complain("columns", error.what());
    }
  }

  void read_heat() {
    const bool column = form_.columns.heat.has_value();
    const int ways = (run_.has("heat") ? 1 : 0) + (run_.has("case") ? 1 : 0) + (column ? 1 : 0);
    if (ways != 1) {
      run_.complain({},
                    fmt::format("found {} ways to say how much heat the oil takes; expected "
                                "exactly one of heat, case, columns.heat",
                                ways == 0 ? "no" : std::to_string(ways)),
                    ways == 0 ? "heat = \"unknown\" still tells the time constant" : "");
      return;
    }
    if (run_.has("variant") && !run_.has("case"))
      run_.complain("variant", "is a variant of no case: there is no case");
    if (column)
      out_.heat = study::LoggedHeat{factor()};
    else if (run_.has("case"))
      read_case();
    else
      read_stated_heat();
  }

  Uncertain<double> factor() {
    if (run_.has("heat_factor")) return run_.number<double>("heat_factor");
    return Uncertain<double>(1.0);
  }

  void read_stated_heat() {
    const Node* heat = run_.find("heat");
    if (heat->is_text() && heat->text == "unknown")
      out_.heat = study::UnknownHeat{};
    else
      out_.heat = study::ConstantHeat{run_.number<Power>("heat")};
  }

  void read_case() {
    if (form_.standing)
      run_.complain("case", "its losses need the speed of the vehicle; columns maps no speed");
    const std::string variant = run_.text("variant");
    study::Case question = case_of_run(reading_, run_);
    std::vector<std::string> ids;
    for (const study::Variant& known : question.variants) ids.push_back(known.id);
    if (std::ranges::find(ids, variant) == ids.end())
      run_.complain("variant", fmt::format("read \"{}\", but there is no such variant", variant),
                    suggestion(variant, ids));
    std::string shaft = shaft_in(question);
    out_.heat = study::HeatOfCase{std::make_shared<const study::Case>(std::move(question)), variant,
                                  std::move(shaft)};
  }

  /// The shaft that the run names; the only one, or "rotor", where it names none.
  std::string shaft_in(const study::Case& question) {
    std::vector<std::string> shafts;
    for (const study::Shaft& shaft : question.shafts) shafts.push_back(shaft.id);
    if (const auto named = run_.maybe_text("shaft")) {
      if (std::ranges::find(shafts, *named) == shafts.end())
        run_.complain("shaft", fmt::format("read \"{}\", but there is no such shaft", *named),
                      suggestion(*named, shafts));
      return *named;
    }
    const bool measured = form_.columns.shaft_speed || form_.columns.torque;
    const bool rotor = std::ranges::find(shafts, "rotor") != shafts.end();
    if (measured && !rotor && shafts.size() > 1)
      run_.missing("shaft", "the shaft of shaft_speed and torque");
    return rotor ? "rotor" : shafts.front();
  }

  void read_ambient() {
    const bool column = form_.columns.ambient_temperature.has_value();
    if (column == run_.has("ambient"))
      run_.complain("ambient", "expected exactly one of ambient and columns.ambient_temperature");
    else if (!column)
      out_.ambient = run_.number<Temperature>("ambient");
  }

  void read_air() {
    if (!run_.has("air_stream")) return;
    TableReader air = run_.table("air_stream");
    const auto at = air.number<Speed>("at");
    const auto exponent = air.number<double>("exponent");
    air.done();
    out_.air = rig::SumpRun::AirStream{at.nominal(), exponent.nominal()};
    if (form_.standing)
      run_.complain("air_stream", "grows with the speed of the vehicle; columns maps no speed");
  }

  void read_log(const Node& name) {
    if (!name.is_text()) {
      run_.text("log");
      return;
    }
    const fs::path file = file_named_by(name);
    try {
      duty::TripReader reader(form_);
      out_.trip = read_trip(file, reader);
    } catch (const duty::TripError& error) {
      run_.complain("log", fmt::format("{}: {}", file.string(), error.what()));
      return;
    }
    reading_.head.files.push_back(
        {file.filename().string(), sha256_on_disk(file), out_.trip.report.samples});
  }

  RunReading& reading_;
  TableReader& run_;
  duty::TripForm form_;
  study::SumpLog out_;
};

}  // namespace

RunFit read_sump_run(RunReading& reading) {
  return [log = SumpReader(reading).read()] { return study::fit_run(log); };
}

}  // namespace ohmdrag::input
