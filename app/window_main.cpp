// SPDX-License-Identifier: GPL-3.0-or-later
#include <QGuiApplication>
#include <clocale>
#include <cstring>

#include "core/context/memory.hpp"
#include "ui/paint/picture_command.hpp"
#include "ui/report/report_command.hpp"
#include "ui/teach/lesson_files.hpp"
#include "ui/window/main_window.hpp"

int main(int argc, char** argv) {
    wallfoot::keep_freed_memory();
    const bool report = argc > 1 && std::strcmp(argv[1], "report") == 0;
    const bool lesson = argc > 1 && std::strcmp(argv[1], "lesson") == 0;
    if (report || lesson || (argc > 1 && std::strcmp(argv[1], "picture") == 0)) {
        // Neither needs a display, so it must not fail for the lack of one.
        if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
        QGuiApplication application(argc, argv);
        std::setlocale(LC_NUMERIC, "C");  // numbers are written alike everywhere
        const QStringList words = application.arguments().mid(2);
        return report ? wallfoot::report_command(words) : lesson ? wallfoot::lesson_command(words) : wallfoot::picture_command(words);
    }
    return wallfoot::open_window(argc, argv);
}
