// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QPainter>
#include <QRectF>
#include <functional>
#include <memory>
#include <vector>

namespace wallfoot {

/// A strip of a page as wide as the text: painted with its upper left corner at (0, 0).
struct Strip {
    double height = 0;                      ///< pixels of 1/96 inch
    std::function<void(QPainter&)> paint;   ///< may be empty (room only)
    bool keep_with_next = false;            ///< never the last of a page
    std::shared_ptr<const Strip> head;      ///< repeated on top when a page begins with this strip: a table's head
    double before = 0;                      ///< room above, not at the top of a page
};

/// A strip at its place on a page.
struct Placed {
    double y = 0;
    std::function<void(QPainter&)> paint;
};
using PlacedPage = std::vector<Placed>;

/// Lays strips on pages of a height. Strips that keep with the next go over together, unless together they are higher than
/// a page; a strip higher than a page has one of its own. (Qt's text documents can neither keep a heading with what
/// follows nor draw the section as lines, hence our own few lines.)
std::vector<PlacedPage> flow(const std::vector<Strip>& strips, double page_height);

}  // namespace wallfoot
