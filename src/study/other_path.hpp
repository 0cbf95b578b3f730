#pragma once

#include <optional>
#include <string_view>

#include "ohmdrag/bearing/film.hpp"
#include "ohmdrag/component/gear_mesh.hpp"
#include "ohmdrag/material/lubricant.hpp"
#include "ohmdrag/study/case.hpp"
#include "ohmdrag/study/draws.hpp"
#include "ohmdrag/voltage/discharge_path.hpp"

namespace ohmdrag::study {

/// How strong the films of a case are: its breakdown field.
struct FilmStrength {
  ElectricField drawn;
  voltage::BreakdownBand band;  ///< between parts

  voltage::PathThreshold of_bearing(Length h_min, double film_ratio) const;
  voltage::PathThreshold of_one_film(Length h_min, double film_ratio) const;
};
FilmStrength film_strength(const DischargeConstants& constants, const Draw& draw);

/// The 5, 50 and 95 % points of what is not known of a threshold.
voltage::ThresholdBand band_of(const Uncertain<Voltage>& threshold);

voltage::PathKind kind_of(PathToFrame::Kind kind);

/// Whether pressure may lift the permittivity of an oil: see material/permittivity.hpp.
bearing::Dielectric dielectric_of(const Lubricant& oil);

/// A way from a shaft to the frame that is no bearing of the case, in one draw.
class OtherPath {
 public:
  OtherPath(const PathToFrame& entry, std::size_t shaft, const Case& world,
            const material::LubricantProperties& oil, const Draw& draw);

  std::size_t shaft() const { return shaft_; }
  /// \param speed   of its shaft
  /// \param torque  of its shaft
  /// \returns none where nothing touches, as between teeth without torque.
  std::optional<voltage::DischargePath> state(AngularVelocity speed, Temperature oil,
                                              Torque torque) const;

 private:
  struct Mesh {
    component::GearPair pair;
    component::MeshGeometry geometry;
    bearing::FilmMaterial material;
    material::LubricantProperties oil;
    FilmStrength strength;
  };
  std::optional<voltage::DischargePath> mesh_state(AngularVelocity speed, Temperature oil,
                                                   Torque torque) const;

  std::size_t shaft_;
  voltage::DischargePath as_stated_;  ///< of a mesh without its film
  std::optional<Mesh> mesh_;
};

}  // namespace ohmdrag::study
