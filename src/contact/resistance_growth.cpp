#include "ohmdrag/contact/resistance_growth.hpp"

#include <cmath>
#include <stdexcept>

namespace ohmdrag::contact {

namespace {

void require(bool met, const char* what) {
  if (!met) throw std::invalid_argument(what);
}

/// sigma(t)/sigma(0)
double film_ratio(const GrowingFilm& film, Length thickness) {
  if (film.tunnel_length) return std::exp((thickness - film.new_thickness) / *film.tunnel_length);
  return thickness / film.new_thickness;
}

}  // namespace

Length film_thickness(const GrowingFilm& film, Temperature contact, Time running) {
  require(film.new_thickness.value() > 0.0 && film.rate.value() >= 0.0 &&
              film.activation_temperature.value() >= 0.0,
          "growing film: thickness positive, rate and activation temperature not negative");
  require(contact.value() > 0.0 && running.value() >= 0.0,
          "growing film: temperature above absolute zero, time not negative");
  const FilmGrowthRate rate =
      film.rate * std::exp(-film.activation_temperature.value() / contact.value());
  return Length::from_value(
      std::hypot(film.new_thickness.value(), std::sqrt(Area(rate * running).value())));
}

double lost_share(const LostSpots& lost, Time running) {
  require(lost.final_share >= 0.0 && lost.final_share <= 0.99 && lost.time.value() > 0.0,
          "lost spots: the share must lie between 0 and 0.99, the time must be positive");
  require(running.value() >= 0.0, "lost spots: the time must not be negative");
  return -lost.final_share * std::expm1(-(running / lost.time).value());
}

DryResistance grown(const DryResistance& law, const ResistanceGrowth& growth, Temperature contact,
                    Time running) {
  DryResistance out = law;
  if (growth.film) {
    const GrowingFilm& film = *growth.film;
    require(film.share >= 0.0 && film.share <= 1.0,
            "growing film: its share of the resistance must lie between 0 and 1");
    require(!film.tunnel_length || film.tunnel_length->value() > 0.0,
            "growing film: the tunnel length must be positive");
    const double ratio = film_ratio(film, film_thickness(film, contact, running));
    // An infinite ratio has nothing to raise where there is no film.
    if (film.share > 0.0 && law.film.value() > 0.0) out.film *= 1.0 + film.share * (ratio - 1.0);
  }
  if (growth.lost) {
    const double left = 1.0 - lost_share(*growth.lost, running);
    out.bulk /= left;
    out.film /= left;
  }
  return out;
}

}  // namespace ohmdrag::contact
