// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <memory>
#include <string>

#include "core/geometry/point.hpp"
#include "core/study/material.hpp"

namespace wallfoot {

enum class UnderlayKind { picture, pdf, dxf };

/// Most bytes of one attachment, and of all together.
constexpr std::size_t attachment_limit = 20'000'000, attachments_limit = 50'000'000;

/// A file that came with the study. Never changed once it is in: studies share it.
struct Attachment {
    std::string type;   ///< media type, such as image/png
    std::string name;   ///< of the file it was read from
    std::string bytes;
    Extra extra = {};
    bool operator==(const Attachment&) const = default;
};

/// Attachments by the SHA-256 of their bytes (64 hex digits).
using Attachments = std::map<std::string, std::shared_ptr<const Attachment>>;

/// A place in mm, off the grid.
struct Place {
    double x = 0, y = 0;
};

/// A picture, a page or drawn lines below the section: to trace, no part of the construction.
/// Its own units are pixels (picture), points of 1/72 inch (pdf page) or mm (dxf), from its lower left corner (dxf: from
/// its origin), y upwards.
struct Underlay {
    std::string id;
    std::string attachment;                     ///< key in Study::attachments
    UnderlayKind kind = UnderlayKind::picture;
    int page = 1;                               ///< of a pdf, from 1
    Point origin;                               ///< where its own (0, 0) lies
    double scale = 1;                           ///< mm per unit of its own, > 0
    double rotation = 0;                        ///< degrees anticlockwise about `origin`
    bool mirrored = false;                      ///< left and right changed before it is turned
    double opacity = 0.5;                       ///< 0 … 1
    bool locked = true, visible = true;
    bool not_to_scale = false;                  ///< its paper says so: written dimensions rule, not what is measured
    Extra extra = {};
    bool operator==(const Underlay&) const = default;
};

/// Where the place (u, v) of an underlay lies in the drawing.
Place placed(const Underlay& underlay, double u, double v);
/// And back.
Place unplaced(const Underlay& underlay, double x, double y);

}  // namespace wallfoot
