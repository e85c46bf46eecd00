// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/exchange/pdf_tags.hpp"

#include <QPaintEngine>
#include <QPainter>
#include <charconv>
#include <optional>
#include <string_view>

// The library asks which of its pointers are meant: the standard ones.
#ifndef POINTERHOLDER_TRANSITION
#define POINTERHOLDER_TRANSITION 4
#endif
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFWriter.hh>

#include "ui/exchange/pdf_language.hpp"

namespace wallfoot {

namespace {

// Qt's writer knows no marked content. A rectangle far off the page is written as it is, "x y 1 1 re", in a block of its own
// between q and Q; it stands for the beginning or end of an element until the block is taken out again.
constexpr int sign_x = -20'000, sign_y = -30'000;
constexpr std::string_view sign_end = " -30000 1 1 re\nf\nQ\nQ\n";

void paint_sign(QPainter& painter, int number) {
    if (!painter.paintEngine() || painter.paintEngine()->type() != QPaintEngine::Pdf) return;
    painter.save();
    painter.setOpacity(1);
    painter.setPen(Qt::NoPen);
    painter.setBrush(Qt::black);
    painter.drawRect(QRectF(sign_x - number, sign_y, 1, 1));
    painter.restore();
}

/// A sign in the content of a page.
struct Sign {
    std::size_t begin = 0, end = 0;  ///< of its block
    int element = 0;
    bool opens = false;
};

/// The begin of the line before the one that begins at `at`; npos at the top.
std::size_t line_before(const std::string& text, std::size_t at) {
    if (at < 2) return std::string::npos;
    const std::size_t before = text.rfind('\n', at - 2);
    return before == std::string::npos ? 0 : before + 1;
}

/// Nothing where a sign does not look as it should.
std::optional<std::vector<Sign>> signs_in(const std::string& text) {
    std::vector<Sign> signs;
    for (std::size_t at = text.find(sign_end); at != std::string::npos; at = text.find(sign_end, at + 1)) {
        std::size_t line = text.rfind('\n', at - 1);
        if (line == std::string::npos) return std::nullopt;
        ++line;
        int x = 0;
        const auto read = std::from_chars(text.data() + line, text.data() + at, x);
        if (read.ec != std::errc() || read.ptr != text.data() + at || x > sign_x) return std::nullopt;
        // Back to the second q: state of its own, and the matrix within.
        std::size_t begin = line;
        for (int found = 0; found < 2;) {
            begin = line_before(text, begin);
            if (begin == std::string::npos) return std::nullopt;
            found += text.compare(begin, 2, "q\n") == 0;
        }
        const int number = sign_x - x;
        signs.push_back({begin, at + sign_end.size(), number / 2, number % 2 == 0});
    }
    return signs;
}

QPDFObjectHandle name_of_pdf(const std::string& name) { return QPDFObjectHandle::newName("/" + name); }

QPDFObjectHandle attribute_of(const char* owner, const char* key, QPDFObjectHandle value) {
    QPDFObjectHandle attribute = QPDFObjectHandle::newDictionary();
    attribute.replaceKey("/O", name_of_pdf(owner));
    attribute.replaceKey(key, value);
    return attribute;
}

/// Tree, pages and what leads from a part of a page to its element.
class Tagging {
  public:
    Tagging(QPDF& document, const TagTree& tree) : document_(document), tree_(tree) {
        root_ = document.makeIndirectObject(QPDFObjectHandle::newDictionary());
        whole_ = node("Document", root_);
        for (const TagElement& element : tree) {
            QPDFObjectHandle parent = element.parent < 0 ? whole_ : nodes_[static_cast<std::size_t>(element.parent)];
            nodes_.push_back(node(element.kind, parent));
            parent.getKey("/K").appendItem(nodes_.back());
            if (!element.words.empty()) nodes_.back().replaceKey("/Alt", QPDFObjectHandle::newUnicodeString(element.words));
            if (element.kind == "TH") nodes_.back().replaceKey("/A", attribute_of("Table", "/Scope", name_of_pdf(element.of_row ? "Row" : "Column")));
        }
    }

    /// False where the signs of the page are not whole; the page is as it was then.
    bool page(QPDFObjectHandle page, int index) {
        page.coalesceContentStreams();
        QPDFObjectHandle contents = page.getKey("/Contents");
        const auto data = contents.getStreamData(qpdf_dl_generalized);
        const std::string text(reinterpret_cast<const char*>(data->getBuffer()), data->getSize());
        const auto signs = signs_in(text);
        if (!signs) return false;
        QPDFObjectHandle parents = QPDFObjectHandle::newArray();
        // What belongs to no element is nothing to be read.
        std::string tagged = "/Artifact BMC\n";
        std::size_t done = 0;
        int open = -1, next = 0;
        for (const Sign& sign : *signs) {
            if (static_cast<std::size_t>(sign.element) >= nodes_.size() || sign.begin < done || (sign.opens ? open >= 0 : open != sign.element)) return false;
            tagged.append(text, done, sign.begin - done);
            done = sign.end;
            tagged += "EMC\n";
            if (sign.opens) {
                QPDFObjectHandle node = nodes_[static_cast<std::size_t>(sign.element)];
                tagged += "/" + tree_[static_cast<std::size_t>(sign.element)].kind + " <</MCID " + std::to_string(next) + ">> BDC\n";
                QPDFObjectHandle part = QPDFObjectHandle::newDictionary();
                part.replaceKey("/Type", name_of_pdf("MCR"));
                part.replaceKey("/Pg", page);
                part.replaceKey("/MCID", QPDFObjectHandle::newInteger(next++));
                node.getKey("/K").appendItem(part);
                parents.appendItem(node);
                open = sign.element;
            } else {
                tagged += "/Artifact BMC\n";
                open = -1;
            }
        }
        if (open >= 0) return false;
        tagged.append(text, done);
        if (!tagged.ends_with('\n')) tagged += '\n';
        tagged += "EMC\n";
        contents.replaceStreamData(tagged, QPDFObjectHandle::newNull(), QPDFObjectHandle::newNull());
        page.replaceKey("/StructParents", QPDFObjectHandle::newInteger(index));
        page.replaceKey("/Tabs", name_of_pdf("S"));
        numbers_.appendItem(QPDFObjectHandle::newInteger(index));
        numbers_.appendItem(document_.makeIndirectObject(parents));
        pages_ = index + 1;
        return true;
    }

    void finish() {
        QPDFObjectHandle parents = QPDFObjectHandle::newDictionary();
        parents.replaceKey("/Nums", numbers_);
        root_.replaceKey("/Type", name_of_pdf("StructTreeRoot"));
        root_.replaceKey("/K", whole_);
        root_.replaceKey("/ParentTree", document_.makeIndirectObject(parents));
        root_.replaceKey("/ParentTreeNextKey", QPDFObjectHandle::newInteger(pages_));
        QPDFObjectHandle marked = QPDFObjectHandle::newDictionary();
        marked.replaceKey("/Marked", QPDFObjectHandle::newBool(true));
        document_.getRoot().replaceKey("/MarkInfo", marked);
        document_.getRoot().replaceKey("/StructTreeRoot", root_);
    }

  private:
    QPDFObjectHandle node(const std::string& kind, QPDFObjectHandle parent) {
        QPDFObjectHandle made = QPDFObjectHandle::newDictionary();
        made.replaceKey("/Type", name_of_pdf("StructElem"));
        made.replaceKey("/S", name_of_pdf(kind));
        made.replaceKey("/P", parent);
        made.replaceKey("/K", QPDFObjectHandle::newArray());
        return document_.makeIndirectObject(made);
    }

    QPDF& document_;
    const TagTree& tree_;
    QPDFObjectHandle root_, whole_;
    std::vector<QPDFObjectHandle> nodes_;
    QPDFObjectHandle numbers_ = QPDFObjectHandle::newArray();
    int pages_ = 0;
};

}  // namespace

int add_tag(TagTree* tree, TagElement element) {
    if (!tree) return -1;
    tree->push_back(std::move(element));
    return static_cast<int>(tree->size()) - 1;
}

void begin_tag(QPainter& painter, int element) {
    if (element >= 0) paint_sign(painter, 2 * element);
}

void end_tag(QPainter& painter, int element) {
    if (element >= 0) paint_sign(painter, 2 * element + 1);
}

QByteArray with_tags(const QByteArray& pdf, const char* language, const TagTree& tree) {
    QPDF document;
    document.setSuppressWarnings(true);
    document.processMemoryFile("report", pdf.constData(), static_cast<std::size_t>(pdf.size()));
    Tagging tagging(document, tree);
    int index = 0;
    for (const QPDFObjectHandle& page : document.getAllPages())
        if (!tagging.page(page, index++)) return with_language(pdf, language);
    tagging.finish();
    QPDFWriter writer(document);
    writer.setOutputMemory();
    writer.setCompressStreams(true);
    writer.setDecodeLevel(qpdf_dl_none);
    writer.write();
    const std::shared_ptr<Buffer> bytes = writer.getBufferSharedPointer();
    return with_language(QByteArray(reinterpret_cast<const char*>(bytes->getBuffer()), static_cast<qsizetype>(bytes->getSize())), language);
}

}  // namespace wallfoot
