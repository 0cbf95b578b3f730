#include "ohmdrag/report/units.hpp"

#include "ohmdrag/quantity/dimension.hpp"

namespace ohmdrag::report {

List unit_rows() {
  List out{.heads = {"dimension", "SI", "accepted units"}, .rows = {}};
  for (const DimensionRow& row : dimension_table()) {
    std::string accepted;
    for (const UnitSpelling& unit : row.units)
      accepted += (accepted.empty() ? "" : ", ") + std::string(unit.text);
    out.rows.push_back(
        {std::string(row.name), std::string(row.units.front().text), std::move(accepted)});
  }
  return out;
}

std::string units_list(const TerminalOptions& options) {
  const List units = unit_rows();
  const List forms{
      .heads = {"written", "also", "meaning"},
      .rows = {{"a unit", "", "exactly a"},
               {"a ± b unit", "a +/- b", "normal, 95 % of all values between a−b and a+b"},
               {"a unit ± p %", "a +/- p %",
                "the same with b = p % of a; refused on a temperature, whose zero is a convention"},
               {"a … b unit", "a .. b", "uniform between a and b, nothing outside"},
               {"a … m … b unit", "a .. m .. b",
                "triangular between a and b, m the most frequent value; its middle is the median"},
               {"a unit ×/÷ f", "a x/÷ f, a */÷ f, a x/: f",
                "log-normal, 95 % of all values between a/f and a·f"},
               {"a ± b within c … d", "a ×/÷ f within c … d",
                "the same with nothing outside c and d: cut there, the rest as before"}}};
  return plain_table(units.heads, units.rows, options) + '\n' +
         plain_table(forms.heads, forms.rows, options) + '\n' +
         "± has one meaning everywhere: the 95 % interval.\n"
         "As a table: { value = \"a\", spread = \"± b\", within = \"c … d\", scatter = \"± e\" };\n"
         "spread is what is not known, one draw for all who share the number, scatter is from part "
         "to part.\n";
}

}  // namespace ohmdrag::report
