// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QImage>
#include <QPolygonF>
#include <QString>
#include <array>
#include <string>

#include "core/file/attachment.hpp"

namespace wallfoot {

/// Most pixels of a picture: looked at in its head, before anything of it is unpacked.
constexpr qint64 most_pixels = 60'000'000;

/// The bytes of a file. Throws InputFault "file-unreadable", "underlay-file-too-large" (without reading it).
std::string bytes_of_file(const QString& path, std::size_t limit);

/// A PNG or JPEG as it is to be seen: the turn a camera notes in it is done. Throws InputFault "picture-damaged",
/// "picture-too-many-pixels".
QImage decoded_picture(const std::string& bytes);

/// As a PNG attachment; made smaller where it would be larger than an attachment may be. `factor` receives by how much.
AttachedFile png_attachment(QImage image, const QString& name, double* factor);

/// A picture of which a rectangle of the thing was told.
struct Straightened {
    QImage image;
    double mm_per_pixel = 1;
    QPointF first;  ///< where the first corner of the rectangle is, pixels from the lower left corner, y upwards
};
/// Takes the tilt out of a photo: `corners` of a rectangle on the thing in the photo, in pixels (y downwards), first the
/// lower left one, then anticlockwise; its sides in mm, `width` from the first to the second. Keeps what of the photo
/// lies near it and is seen from the front. Throws InputFault "straighten-impossible".
Straightened straightened(const QImage& photo, const std::array<QPointF, 4>& corners, double width, double height);

}  // namespace wallfoot
