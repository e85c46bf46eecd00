// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/standards/masonry.hpp"

#include "core/standards/outside_standard.hpp"

namespace wallfoot::masonry {

double conductivity_of_unit(double thickness_m, double resistance) {
    require_above_zero("thickness", thickness_m);
    require_above_zero("resistance", resistance);
    return thickness_m / resistance;
}

Conductivities conductivities(const Bond& bond) {
    require_above_zero("length of the unit", bond.length_mm);
    require_above_zero("height of the unit", bond.height_mm);
    require_not_below_zero("bed joint", bond.bed_mm);
    require_not_below_zero("perpend", bond.perpend_mm);
    require_above_zero("conductivity of the unit", bond.unit);
    require_above_zero("conductivity of the mortar", bond.mortar);
    const double width = bond.length_mm + bond.perpend_mm, height = bond.height_mm + bond.bed_mm;
    const double perpends = bond.perpend_mm / width;  // share of a course
    const auto over_bed = [&](double course) { return height / (bond.height_mm / course + bond.bed_mm / bond.mortar); };
    Conductivities result;
    result.mortar_share = 1 - bond.length_mm * bond.height_mm / (width * height);
    result.across = (1 - result.mortar_share) * bond.unit + result.mortar_share * bond.mortar;
    result.up = (1 - perpends) * over_bed(bond.unit) + perpends * bond.mortar;
    result.up_even = over_bed((1 - perpends) * bond.unit + perpends * bond.mortar);
    return result;
}

}  // namespace wallfoot::masonry
