// How it goes: watts over the speed of the shafts, temperatures along a duty.

#include <fmt/format.h>
#include <algorithm>

#include "ohmdrag/quantity/print.hpp"
#include "report/html/charts.hpp"

namespace ohmdrag::report {
namespace {

/// What a page has room for; the others are in the tables of the result.
constexpr std::size_t most_courses = 4;

std::string degC(double value) { return print_number(value, 3) + " °C"; }

Chart course_chart(const study::DutyCourse& course, const std::string& name, std::size_t number) {
  Chart chart{.id = "course-" + std::to_string(number),
              .drawing = "course",
              .title = "Oil and contacts along " + course.duty + ", " + name,
              .statement =
                  "New contacts, everything at its middle: no interval is computed along a duty. "
                  "Lines: means over steps of equal time; shaded: up to the highest within a step.",
              .data = {.fields = {{"time", "time", "s"}, {"m0", "oil sump", "°C"}}, .rows = {}}};
  Json folded = Json::array({"m0"});
  Json names = {{"m0", "oil sump"}};
  Json highest = {{"m0", "m0"}};
  for (std::size_t c = 0; c < course.contacts.size(); ++c) {
    const std::string mean = "m" + std::to_string(c + 1), high = "h" + std::to_string(c + 1);
    const std::string contact = "contact of " + label(course.contacts[c].component);
    chart.data.fields.push_back({mean, contact + ", mean", "°C"});
    chart.data.fields.push_back({high, contact + ", highest", "°C"});
    folded.push_back(mean);
    names[mean] = contact;
    highest[mean] = high;
  }
  for (std::size_t i = 0; i < course.time_s.size(); ++i) {
    std::vector<Datum> row{course.time_s[i], course.oil_degC[i]};
    for (const study::ContactCourse& contact : course.contacts) {
      row.emplace_back(contact.mean_degC[i]);
      row.emplace_back(contact.highest_degC[i]);
    }
    chart.data.rows.push_back(std::move(row));
  }
  chart.inserts = {
      {"folded", std::move(folded)}, {"names", std::move(names)}, {"highest", std::move(highest)}};
  return chart;
}

}  // namespace

Chart speed_chart(const study::VariantFindings& variant, const std::string& name) {
  Chart chart{.id = "watts-over-speed",
              .drawing = "watts_over_speed",
              .title = "Watts over shaft speed, " + name,
              .statement = {},
              .data = {.fields = {{"component", "component"},
                                  {"speed", "shaft speed", "rpm"},
                                  {"own", "own power", "W"},
                                  {"point", "operating point"}},
                       .rows = {}}};
  if (variant.watts_over_speed && !variant.watts_over_speed->rows.empty()) {
    const study::SpeedWatts& curve = *variant.watts_over_speed;
    chart.statement = fmt::format(
        "Lines: with the oil{} and the torque of {}, middle and, shaded, 95 % of {} draws. Marks: "
        "the operating points, each with its own oil and torque. {}",
        std::isfinite(curve.oil_degC) ? " (" + degC(curve.oil_degC) + ")" : std::string(),
        curve.point, curve.draws, curve.remark);
    for (const study::SpeedWattsRow& row : curve.rows)
      chart.data.rows.push_back({row.component, row.shaft_speed_rpm, row.own_W, Datum()});
  } else {
    chart.statement = "At the operating points, each with its own oil and torque.";
  }
  for (const study::BudgetRow& row : variant.budget)
    chart.data.rows.push_back({row.component, row.shaft_speed_rpm, row.own_W, row.point});
  return chart;
}

std::vector<Chart> course_charts(const Subject& subject) {
  const study::VariantFindings* shown = subject.other ? subject.other : subject.baseline;
  if (!shown) return {};
  const std::string name = subject.other ? subject.name_of_other() : shown->id;
  std::vector<Chart> charts;
  for (const study::DutyCourse& course : shown->courses) {
    if (charts.size() == most_courses) break;
    charts.push_back(course_chart(course, name, charts.size() + 1));
  }
  return charts;
}

}  // namespace ohmdrag::report
