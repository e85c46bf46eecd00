// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/window/look.hpp"

#include <QApplication>
#include <QStyle>
#include <QStyleFactory>

namespace wallfoot {

namespace {

QPalette palette_of(QColor window, QColor base, QColor button, QColor text, QColor faint, QColor highlight, QColor highlighted) {
    QPalette palette(text, button, button.lighter(115), button.darker(160), button.darker(120), text, highlighted, base, window);
    palette.setColor(QPalette::AlternateBase, window);
    palette.setColor(QPalette::ToolTipBase, base);
    palette.setColor(QPalette::ToolTipText, text);
    palette.setColor(QPalette::PlaceholderText, faint);
    palette.setColor(QPalette::Highlight, highlight);
    palette.setColor(QPalette::HighlightedText, highlighted);
    palette.setColor(QPalette::Link, highlight);
    for (const auto role : {QPalette::Text, QPalette::WindowText, QPalette::ButtonText}) palette.setColor(QPalette::Disabled, role, faint);
    palette.setColor(QPalette::Disabled, QPalette::Highlight, faint);
    return palette;
}

}  // namespace

QPalette window_palette(bool dark) {
    if (dark)
        return palette_of(QColor(0x26, 0x2a, 0x2d), QColor(0x1d, 0x20, 0x23), QColor(0x32, 0x37, 0x3b), QColor(0xe3, 0xe6, 0xe6),
                          QColor(0x92, 0x9a, 0x9e), QColor(0x5f, 0xa8, 0xa0), QColor(0x10, 0x16, 0x17));
    return palette_of(QColor(0xee, 0xf0, 0xee), QColor(0xfc, 0xfc, 0xfa), QColor(0xe4, 0xe7, 0xe5), QColor(0x1f, 0x27, 0x2a),
                      QColor(0x69, 0x73, 0x77), QColor(0x2b, 0x6e, 0x69), QColor(0xff, 0xff, 0xff));
}

bool desktop_is_dark() { return QApplication::palette().color(QPalette::Window).lightness() < 128; }

void use_look(bool dark) {
    if (QApplication::style()->name().compare(QStringLiteral("fusion"), Qt::CaseInsensitive) != 0)
        QApplication::setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
    QApplication::setPalette(window_palette(dark));
    // What is chosen among buttons must be seen in both sets of colours.
    qApp->setStyleSheet(QStringLiteral("QToolButton:checked { background: palette(highlight); color: palette(highlighted-text); "
                                       "border: 1px solid palette(highlight); border-radius: 3px; }"));
}

}  // namespace wallfoot
