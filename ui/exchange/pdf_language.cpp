// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/exchange/pdf_language.hpp"

// The library asks which of its pointers are meant: the standard ones.
#define POINTERHOLDER_TRANSITION 4
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFWriter.hh>

namespace wallfoot {

QByteArray with_language(const QByteArray& pdf, const char* language) {
    QPDF document;
    document.setSuppressWarnings(true);
    document.processMemoryFile("report", pdf.constData(), static_cast<std::size_t>(pdf.size()));
    QPDFObjectHandle root = document.getRoot();
    root.replaceKey("/Lang", QPDFObjectHandle::newUnicodeString(language));
    QPDFObjectHandle wishes = QPDFObjectHandle::newDictionary();
    wishes.replaceKey("/DisplayDocTitle", QPDFObjectHandle::newBool(true));
    root.replaceKey("/ViewerPreferences", wishes);
    QPDFWriter writer(document);
    writer.setOutputMemory();
    writer.setStreamDataMode(qpdf_s_preserve);
    writer.write();
    const std::shared_ptr<Buffer> bytes = writer.getBufferSharedPointer();
    return QByteArray(reinterpret_cast<const char*>(bytes->getBuffer()), static_cast<qsizetype>(bytes->getSize()));
}

}  // namespace wallfoot
