#pragma once

#include <optional>

#include "ohmdrag/contact/electrical.hpp"
#include "ohmdrag/quantity/quantities.hpp"

/// Resistance that rises while the force stays: a film that grows, spots that oil and debris take.
/// What wear and relaxation of the force add follows from the force itself, see service.hpp.
namespace ohmdrag::contact {

/// Growth of a film's thickness squared over time.
using FilmGrowthRate = Quantity<decltype(si::area() / si::time())>;

/// An insulating film, such as an oxide, that grows through itself.
struct GrowingFilm {
  Length new_thickness;                          ///< s_0 > 0
  FilmGrowthRate rate;                           ///< k_p0 >= 0, at unlimited temperature
  TemperatureDifference activation_temperature;  ///< E_a/R_g >= 0
  /// s_t > 0: electrons tunnel, the film's resistivity goes with exp(s/s_t). None: with s.
  std::optional<Length> tunnel_length;
  double share;  ///< of film in the resistance of spots and film when new, in [0, 1]
};

/// Thickness after a time at a temperature.
///
///     s = sqrt(s_0^2 + k_p t),   k_p = k_p0 exp[-(E_a/R_g)/T]
///
/// Limits    t = 0 or k_p0 = 0: s_0. Late: sqrt(k_p t).
/// Accuracy  unknown; every constant must come from the user's own test.
/// Source    assumed form: parabolic growth, diffusion through the film.
/// \throws std::invalid_argument for members outside the ranges they name, a temperature not above
///         absolute zero or a negative time.
Length film_thickness(const GrowingFilm& film, Temperature contact, Time running);

/// Spots that oil, grease or debris lift or coat.
struct LostSpots {
  double final_share;  ///< phi_inf in [0, 0.99]
  Time time;           ///< t_c > 0
};

/// Share of the spots that are lost, phi = phi_inf [1 - exp(-t/t_c)].
///
/// Limits    t = 0: 0. Late: phi_inf.
/// Source    assumed form: first-order approach.
/// \throws std::invalid_argument for members outside the ranges they name or a negative time.
double lost_share(const LostSpots& lost, Time running);

/// Each of the two may be left out: then it changes nothing.
struct ResistanceGrowth {
  std::optional<GrowingFilm> film;
  std::optional<LostSpots> lost;
};

/// The law of a dry contact after some running, at the force it then has.
///
///     R_c(t) = R_c [1 + share (sigma(t)/sigma(0) - 1)] / (1 - phi)
///     R_b(t) = R_b / (1 - phi)
///     sigma ~ s, or ~ exp(s/s_t) where electrons tunnel
///
/// The bulk loses what the spots lose: a fibre whose tip is coated carries nothing. Reference force
/// and exponents stay, so that a force lost meanwhile is counted by ring_resistance() of the force
/// left, and once.
///
/// Validity  rest ages as running does only if the time is given so. A film that friction or
///           fritting breaks up does not grow: then leave it out.
/// Limits    nothing given: the law itself. A tunnelling film may reach an infinite resistance: an
///           open contact.
/// Accuracy  a trend. Where nothing was fitted, a constant resistance with an end-of-service factor
///           (3 dry, 10 with oil near by, assumed) says as much.
/// Source    assumed forms.
/// \throws std::invalid_argument as film_thickness() and lost_share().
DryResistance grown(const DryResistance& law, const ResistanceGrowth& growth, Temperature contact,
                    Time running);

}  // namespace ohmdrag::contact
