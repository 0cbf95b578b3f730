#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <utility>

#include "input/run_reading.hpp"
#include "ohmdrag/study/rig_comparison_run.hpp"

namespace ohmdrag::input {

namespace {

/// One pass over [run] of a comparison; it has no log.
class RigComparisonReader {
 public:
  explicit RigComparisonReader(RunReading& reading) : reading_(reading), run_(reading.run) {}

  study::RigComparison read() {
    question_ = std::make_shared<const study::Case>(case_of_run(reading_, run_));
    out_.question = question_;
    read_application();
    TableReader rig = run_.required_table("rig");
    if (rig.present()) {
      read_rig(rig);
      rig.done();
    }
    reading_.problems.throw_if_any();
    out_.head = reading_.head;
    return std::move(out_);
  }

 private:
  std::string one_of(std::string_view key, const std::vector<std::string>& ids,
                     std::string_view what) {
    std::string id = run_.text(key);
    if (run_.has(key) && std::ranges::find(ids, id) == ids.end())
      run_.complain(key, fmt::format("read \"{}\", but the case has no such {}", id, what),
                    suggestion(id, ids));
    return id;
  }

  void read_application() {
    std::vector<std::string> variants, points, duties;
    for (const study::Variant& variant : question_->variants) variants.push_back(variant.id);
    for (const study::OperatingPoint& point : question_->points) points.push_back(point.id);
    for (const study::Duty& duty : question_->duties) duties.push_back(duty.id);
    out_.variant = one_of("variant", variants, "variant");
    out_.contact = run_.text("contact");
    if (run_.has("point") == run_.has("oil_temperature")) {
      run_.complain("point",
                    "expected exactly one of point, an operating point of the case, and "
                    "oil_temperature");
    } else if (run_.has("point")) {
      const std::string id = one_of("point", points, "operating point");
      const auto found = std::ranges::find(question_->points, id, &study::OperatingPoint::id);
      if (found != question_->points.end()) out_.oil = found->oil_temperature;
      out_.oil_from = "as at " + id;
    } else {
      out_.oil = run_.number<Temperature>("oil_temperature");
      out_.oil_from = out_.oil.read_as;
    }
    if (run_.has("duty")) out_.duty = one_of("duty", duties, "duty");
  }

  void read_rig(TableReader& rig) {
    study::RigSetUp& out = out_.rig;
    out.diameter = rig.number<Length>("diameter");
    out.bore = rig.maybe_number<Length>("bore");
    out.length = rig.number<Length>("length");
    if (rig.has("oil_temperature") == rig.has("spindle_temperature"))
      rig.complain({},
                   "expected exactly one of oil_temperature, with wet_until, and "
                   "spindle_temperature, of a rig without oil");
    if (rig.has("oil_temperature")) {
      out.held = rig.number<Temperature>("oil_temperature");
      out.wet_until = rig.number<Length>("wet_until");
    } else if (rig.has("spindle_temperature")) {
      out.held = rig.number<Temperature>("spindle_temperature");
      if (rig.has("wet_until"))
        rig.complain("wet_until", "the rig has a spindle and no oil; expected oil_temperature");
    }
    if (rig.has("air_temperature") == rig.has("enclosure")) {
      rig.complain({}, "expected exactly one of air_temperature, as measured, and enclosure");
    } else if (rig.has("air_temperature")) {
      out.air = rig.number<Temperature>("air_temperature");
    } else {
      TableReader enclosure = rig.table("enclosure");
      out.enclosure =
          study::RigSetUp::Enclosure{enclosure.number<Temperature>("room"),
                                     enclosure.number<ThermalConductance>("conductance"),
                                     enclosure.maybe_number<Power>("other_heat")};
      enclosure.done();
    }
    read_elements(rig);
    for (const auto& speed : rig.numbers<AngularVelocity>("speeds"))
      out.speeds.push_back(speed.nominal());
    if (out.speeds.empty()) rig.missing("speeds", "a list of speeds of the rig's shaft");
    for (std::size_t i = 0; i < out.speeds.size(); ++i)
      if (!(out.speeds[i].value() > 0.0) || (i > 0 && !(out.speeds[i] > out.speeds[i - 1]))) {
        rig.complain("speeds", "expected speeds above zero that rise from one to the next");
        break;
      }
  }

  void read_elements(TableReader& rig) {
    for (TableReader& table : rig.tables("element")) {
      study::RigElement element;
      element.id = table.text("id");
      element.of = table.text("of");
      element.position = table.number<Length>("position");
      element.line_force = table.maybe_number<LineForce>("line_force");
      table.done();
      out_.rig.elements.push_back(std::move(element));
    }
    if (out_.rig.elements.empty())
      rig.missing("element", "[[run.rig.element]] with id, of and position, one a wear point");
  }

  RunReading& reading_;
  TableReader& run_;
  std::shared_ptr<const study::Case> question_;
  study::RigComparison out_;
};

}  // namespace

RunFit read_rig_comparison_run(RunReading& reading) {
  return [run = RigComparisonReader(reading).read()] { return study::fit_run(run); };
}

}  // namespace ohmdrag::input
