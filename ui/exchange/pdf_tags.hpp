// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QByteArray>
#include <string>
#include <vector>

class QPainter;

namespace wallfoot {

/// What a part of the pages is, for those who have it read aloud (ISO 32000-1:2008, 14.8.4; from memory).
struct TagElement {
    std::string kind;    ///< H1, H2, H3, P, Table, Caption, TR, TH, TD, Figure
    int parent = -1;     ///< index of the element it is part of; -1 = the document
    std::string words = {};  ///< of a picture: what it shows
    bool of_row = false; ///< of TH: the head of its row, else of its column
};

/// The elements of a document in the order in which they are read; each is known by its index.
using TagTree = std::vector<TagElement>;
/// Adds an element; -1 where there is no tree.
int add_tag(TagTree* tree, TagElement element);

/// Between these two, what is painted belongs to an element; several times for one that goes over lines or pages. They leave signs in a
/// PDF that with_tags makes tags of, and do nothing elsewhere or for -1. Not one inside the other, nor where the painter clips.
void begin_tag(QPainter& painter, int element);
void end_tag(QPainter& painter, int element);

/// The PDF of Qt with its structure: the tree of elements, their parts of the pages, all else as what is not read aloud; and the language
/// and title as with_language, which is all that is done where the signs are not found as they should be. Throws std::runtime_error
/// for what is no PDF.
QByteArray with_tags(const QByteArray& pdf, const char* language, const TagTree& tree);

}  // namespace wallfoot
