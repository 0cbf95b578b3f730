// Manjunath, Hausner, Heine, De Baets, Fauconnier, Electrical impedance spectroscopy for precise
// film thickness assessment in line contacts, Lubricants 2024 (abstract read): capacitance of the
// whole contact over that of its Hertz area measured as 3 to 11 with speed, load and temperature.
#include "ohmdrag/bearing/film.hpp"
#include "ohmdrag/quantity/literals.hpp"
#include "support/data_file.hpp"
#include "support/near.hpp"

using namespace ohmdrag;
using namespace ohmdrag::literals;
using ohmdrag::test::within;

TEST_CASE("the shipped factor of line contacts spans what was measured", "[printed]") {
  const toml::table defaults = test::data_file("defaults.toml");
  const Distribution factor = test::data_number(*defaults["discharge"].as_table(),
                                                "line_capacitance_factor", Dimension::ratio);
  // Half a printed digit at either end of the 95 % interval.
  CHECK_THAT(factor.quantile(0.025), within(3.0, 0.5));
  CHECK_THAT(factor.quantile(0.975), within(11.0, 0.5));
  CHECK(factor.quantile(0.5) > 3.0);
  CHECK(factor.quantile(0.5) < 11.0);
  // The film takes the factor as it is, at either end.
  for (const double measured : {3.0, 11.0})
    CHECK_THAT(
        bearing::contact_permittivity(2.3, measured, 0.0_GPa, bearing::Dielectric::as_stated),
        within(2.3 * measured, 1e-12));
}
