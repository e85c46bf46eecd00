// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <string>

#include "core/study/study.hpp"

namespace wallfoot {

// Edits of what lies below the section. Attachments belong to the study and are shared by its variants: the last
// underlay that goes takes its attachment along. An unknown id throws InputFault "edit-unknown-id".

/// A file with the key it is kept under.
struct AttachedFile {
    std::string hash;
    std::shared_ptr<const Attachment> attachment;
};

const Underlay* find_underlay(const Section& section, const std::string& id);

/// Lays a file below the section of one variant; an empty id is replaced by a free one ("u1", "u2", …).
/// Throws InputFault "attachment-too-large", "attachments-too-large", "underlay-placement".
Study add_underlay(const Study& study, std::size_t variant, Underlay underlay, const AttachedFile& file);
/// Replaces the underlay of the same id. Throws InputFault "underlay-placement" where its scale, rotation or opacity is
/// no number or out of range, "coordinate-too-large".
Section set_underlay(const Section& section, const Underlay& underlay);
/// Same, with another file in place of its own.
Study set_underlay_file(const Study& study, std::size_t variant, Underlay underlay, const AttachedFile& file);
/// Throws InputFault "underlay-locked".
Section move_underlay(const Section& section, const std::string& id, Micrometres dx, Micrometres dy);
Study remove_underlay(const Study& study, std::size_t variant, const std::string& id);
/// The study without any underlay, and without the attachments only they used.
Study without_underlays(const Study& study);

/// The underlay made larger or smaller so that two of its places, given where they lie in the drawing now, are `length`
/// mm apart; the first stays where it is. No distortion: all directions grow alike.
/// Throws InputFault "calibration-impossible" when a number is not finite, the length is not above 0, or the places
/// are the same.
Underlay calibrated(const Underlay& underlay, Place a, Place b, double length);

/// Takes out attachments that underlays of `before` used and none of `after` does; others (of which only later
/// versions know the use) stay.
void drop_unused_attachments(const Study& before, Study& after);

}  // namespace wallfoot
