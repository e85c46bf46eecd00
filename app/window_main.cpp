// SPDX-License-Identifier: GPL-3.0-or-later
#include <QGuiApplication>
#include <cstring>

#include "core/context/memory.hpp"
#include "ui/paint/picture_command.hpp"
#include "ui/window/main_window.hpp"

int main(int argc, char** argv) {
    wallfoot::keep_freed_memory();
    if (argc > 1 && std::strcmp(argv[1], "picture") == 0) {
        // A picture needs no display, so it must not fail for the lack of one.
        if (qEnvironmentVariableIsEmpty("QT_QPA_PLATFORM")) qputenv("QT_QPA_PLATFORM", "offscreen");
        QGuiApplication application(argc, argv);
        return wallfoot::picture_command(application.arguments().mid(2));
    }
    return wallfoot::open_window(argc, argv);
}
