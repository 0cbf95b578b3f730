#include "report/json_rows.hpp"

namespace ohmdrag::report {

Json to(const study::DutyCourse& course) {
  Json contacts = Json::array();
  for (const study::ContactCourse& contact : course.contacts)
    contacts.push_back({{"component", contact.component},
                        {"mean_degC", list(contact.mean_degC)},
                        {"highest_degC", list(contact.highest_degC)}});
  return {{"duty", course.duty},
          {"time_s", list(course.time_s)},
          {"oil_degC", list(course.oil_degC)},
          {"contacts", std::move(contacts)}};
}

Json to(const study::SpeedWatts& watts) {
  Json rows = Json::array();
  for (const study::SpeedWattsRow& row : watts.rows)
    rows.push_back({{"component", row.component},
                    {"shaft", row.shaft},
                    {"shaft_speed_rpm", number(row.shaft_speed_rpm)},
                    {"own_W", to(row.own_W)}});
  return {{"point", watts.point},
          {"oil_degC", number(watts.oil_degC)},
          {"draws", watts.draws},
          {"remark", word_or_null(watts.remark)},
          {"rows", std::move(rows)}};
}

}  // namespace ohmdrag::report
