#pragma once

#include <span>
#include <vector>

#include "ohmdrag/bearing/elastic.hpp"
#include "ohmdrag/bearing/geometry.hpp"
#include "ohmdrag/bearing/hertz.hpp"
#include "ohmdrag/bearing/load_distribution.hpp"
#include "ohmdrag/quantity/quantities.hpp"

namespace ohmdrag::bearing {

/// A lubricated elliptical contact, ball on groove.
struct PointContact {
  Length rolling_radius;     ///< R_x > 0
  double ellipticity;        ///< k >= 1
  Pressure reduced_modulus;  ///< E'
  PerPressure alpha_p;       ///< pressure-viscosity coefficient > 0
  Force load;                ///< Q > 0
};

/// A lubricated line contact, roller on ring.
struct LineContact {
  Length rolling_radius;     ///< R_x > 0
  Length line;               ///< l > 0, loaded length
  Pressure reduced_modulus;  ///< E'
  PerPressure alpha_p;       ///< > 0
  Force load;                ///< Q > 0
};

/// Minimum film of a point contact (Hamrock and Dowson).
///
///     h = 3.63 R_x U^0.68 G^0.49 W^-0.073 (1 - exp(-0.68 k))          [m]
///     U = eta u/(E' R_x),  G = alpha_p E',  W = Q/(E' R_x^2)
///
/// Validity  fully flooded, isothermal, Newtonian inlet, hard surfaces; eta at the inlet.
/// Limits    0 at rest.
/// Accuracy  +-30 %; measured films average about 30 % above it.
/// Source    B. J. Hamrock, D. Dowson, Isothermal elastohydrodynamic lubrication of point contacts
///           III, ASME J. Lubr. Tech. 99 (1977) 264-276.
///
/// \param eta  dynamic viscosity at the inlet   [Pa s]
/// \param u    mean entrainment speed, >= 0     [m/s]
Length minimum_film(const PointContact& contact, DynamicViscosity eta, Speed u);
/// Central film of the same contact, which fills the flattened area.
///
///     h = 2.69 R_x U^0.67 G^0.53 W^-0.067 (1 - 0.61 exp(-0.73 k))          [m]
Length central_film(const PointContact& contact, DynamicViscosity eta, Speed u);

/// Minimum film of a line contact (Dowson and Higginson).
///
///     h = 2.65 R_x U^0.70 G^0.54 W^-0.13,  W = Q/(E' R_x l)          [m]
///
/// It is the minimum film; some texts give it as the central one.
///
/// Source  D. Dowson, Elastohydrodynamics, Proc. IMechE 182 (1967-68) Pt 3A.
Length minimum_film(const LineContact& contact, DynamicViscosity eta, Speed u);
/// Central film of a line contact (Dowson and Toyoda): h = 3.06 R_x U^0.69 G^0.56 W^-0.10.
///
/// Source  D. Dowson, S. Toyoda, A central film thickness formula for elastohydrodynamic line
///         contacts, 5th Leeds-Lyon Symposium (1978), as quoted in a reference page.
Length central_film(const LineContact& contact, DynamicViscosity eta, Speed u);

/// Lambda = h_min/sigma. Below 1 boundary, to 3 mixed, above 3 full film (common practice).
double film_ratio(Length minimum, Length roughness);
/// sigma = sqrt(Rq1^2 + Rq2^2).
Length combined_roughness(Length one, Length other);

/// Share of the isothermal film that is left when the inlet shears warm.
///
///     phi_T = 3.94/(3.94 + L^0.62),  L = eta u^2 tau/k
///
/// Limits  1 at rest.
/// Source  L. E. Murch, W. R. D. Wilson, A thermal elastohydrodynamic inlet zone analysis, ASME
///         J. Lubr. Tech. 97 (1975); constants from memory.
///
/// \param viscosity_slope_per_K  tau = -d(ln eta)/d(theta) at the inlet, >= 0
/// \param oil_conductivity       k > 0
double inlet_heating_factor(DynamicViscosity eta, Speed u, double viscosity_slope_per_K,
                            ThermalConductivity oil_conductivity);

inline constexpr double inlet_heating_exponent = 0.62;
/// phi_T of the power L^0.62.
constexpr double inlet_heating_factor(double power_of_loading) {
  constexpr double half_heated = 3.94;
  return half_heated / (half_heated + power_of_loading);
}

/// What the permittivity of the oil between flattened surfaces is.
enum class Dielectric {
  as_stated,       ///< that of the oil without pressure
  under_pressure,  ///< material::permittivity_under_pressure() at the mean Hertz pressure
};

/// Permittivity of the Hertz area that stands for a whole contact.
///
///     eps(p) + (k_C - 1) eps
///
/// Pressure squeezes the oil between the flattened surfaces; the k_C - 1 around them are at
/// ambient.
///
/// Limits    k_C eps without pressure.
/// Source    derived.
///
/// \param permittivity        eps of the oil at its temperature
/// \param capacitance_factor  k_C >= 1, capacitance of the whole contact over that of its Hertz
/// area \param pressure            mean Hertz pressure
double contact_permittivity(double permittivity, double capacitance_factor, Pressure pressure,
                            Dielectric dielectric);
/// Plate capacitor of that permittivity: C = eps_0 eps A/h.
///
/// Validity  film ratios above 2 to 3.
/// \throws std::invalid_argument unless everything is positive.
Capacitance film_capacitance(double contact_permittivity, Area hertz_area, Length central_film);

/// The oil films of a bearing as an electrical path: how thick, how much capacitance.
struct FilmState {
  Length minimum_inner;  ///< thinnest film of the most loaded rolling element
  Length central_inner;
  Length minimum_outer;
  Length central_outer;
  double film_ratio;        ///< of minimum_inner
  Area area_inner;          ///< Hertz areas of the inner ring, sum over loaded elements
  Capacitance capacitance;  ///< shaft to housing through all loaded elements
  /// True below a film ratio of 1: roughness peaks touch and the bearing is no capacitor. At rest
  /// there is no film: every thickness, the film ratio and the capacitance are zero and this is
  /// true; the zero stands for "no capacitor", not for a small one.
  bool conducting;
  double unloaded;  ///< rolling elements without load, mean over the positions of the cage
};

/// What films are made of.
struct FilmMaterial {
  Elastic steel;              ///< of rings and rolling elements
  PerPressure alpha_p;        ///< pressure-viscosity coefficient             [1/Pa]
  double film_factor;         ///< share of the flooded isothermal film, > 0
  Length roughness;           ///< combined_roughness() of element and ring   [m]
  double permittivity;        ///< eps_r of the oil
  double capacitance_factor;  ///< k_C, whole contact over Hertz area, >= 1
  Dielectric dielectric = Dielectric::as_stated;
};

struct AppliedLoad;

/// Films and capacitance of one bearing under one load, cheap at every speed and viscosity.
///
///     C_contact = eps_0 contact_permittivity A/h_c,  C_i C_o/(C_i + C_o) each,  C = their sum
///
/// All films scale with the same powers of eta u, so the load-dependent sums are done once. The
/// contact shape is that of the nominal contact angle; a working angle of 15 degrees changes area
/// and capacitance by 0.4 %. The inner films are the thinner ones (smaller radius at the same
/// conformity); the inner areas are the smaller ones.
///
/// Validity  as minimum_film(); the plate capacitor needs film ratios above 2 to 3.
/// Accuracy  film +-30 %; k_C 2.5 to 5 for ball bearings (assumed), 3 to 11 measured for line
///           contacts.
/// Limits    see FilmState::conducting. Elements without load and the rings' own capacitance are
///           left out: 1 to 5 pF a ball and 10 to 30 pF come on top (assumed).
/// Source    B. J. Hamrock, D. Dowson, ASME J. Lubr. Tech. 99 (1977) 264-276 for balls, as
///           minimum_film(LineContact) for rollers; capacitance factor after S. Barz, dissertation,
///           Hannover 1996 (from memory); of line contacts Manjunath, Hausner, Heine, De Baets,
///           Fauconnier, Lubricants 2024 (abstract).
class FilmModel {
 public:
  /// \param loads  of load_distribution()
  FilmModel(const BallBearing& bearing, const FilmMaterial& material,
            const LoadDistribution& loads);
  /// Mean area and capacitance over several cage positions; films of the worst ball of all.
  FilmModel(const BallBearing& bearing, const FilmMaterial& material,
            std::span<const LoadDistribution> phases);
  /// Of rollers.
  /// \param phases  of roller_loads_over_phase()
  FilmModel(const RollerBearing& bearing, const FilmMaterial& material,
            std::span<const std::vector<Force>> phases);

  /// One for each load, its balls at `count` positions of the cage: as of the phases of
  /// load_distributions_over_phase(), with what hangs on no load worked out once.
  static std::vector<FilmModel> under_loads(const BallBearing& bearing,
                                            const FilmMaterial& material,
                                            std::span<const AppliedLoad> loads, int count);

  /// The direction of rotation does not matter.
  /// \param eta                 at the inlet, > 0                                   [Pa s]
  /// \param heating_factor      inlet_heating_factor(), multiplies the film; 1 leaves it out
  /// \param permittivity_share  of the oil's temperature, material::permittivity_share()
  FilmState at(AngularVelocity omega, DynamicViscosity eta, double heating_factor = 1.0,
               double permittivity_share = 1.0) const;
  /// Speed that draws oil into the contacts.
  Speed entrainment(AngularVelocity omega) const;
  /// Powers of eta u by which the minimum and the central film grow.
  double minimum_exponent() const { return minimum_exponent_; }
  double central_exponent() const { return central_exponent_; }

 private:
  struct Contacts;
  struct Rings;
  /// \param loads_N  of all elements at one position of the cage after the other
  FilmModel(const Rings& rings, const FilmMaterial& material, std::span<const double> loads_N,
            std::size_t positions);

  // At eta u = 1 Pa m; the films grow with its powers.
  double minimum_inner_m_ = 0.0, central_inner_m_ = 0.0;
  double minimum_outer_m_ = 0.0, central_outer_m_ = 0.0;
  double minimum_exponent_ = 0.0, central_exponent_ = 0.0;
  double capacitance_F_ = 0.0;  // falls as the central films grow
  double area_inner_m2_ = 0.0;
  double unloaded_ = 0.0;
  double roughness_m_ = 0.0;
  double entrainment_m_ = 0.0;  // u/omega
};

}  // namespace ohmdrag::bearing
