// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/study/study.hpp"

namespace wallfoot::bench {

/// A cavity wall on a ground slab of `pieces` pieces (at least 20) over soil 24 m wide and 20 m deep; what is not foot,
/// floor or ground are courses of the two leaves. With `thin_layers` three more of 0.3, 0.5 and 1 mm. Invented values.
Study ground_junction(int pieces, bool thin_layers);

}  // namespace wallfoot::bench
