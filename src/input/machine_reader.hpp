#pragma once

#include "input/reader.hpp"
#include "ohmdrag/study/machine_size.hpp"

namespace ohmdrag::input {

/// A size of data/machines.toml, or a case's own; `base` as in element_reader.hpp.
study::MachineSize read_machine_size(ReadContext& context, const Node& entry,
                                     const Node* base = nullptr);

}  // namespace ohmdrag::input
