// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/commands/keys.hpp"

#include <QCoreApplication>
#include <QSettings>

namespace wallfoot {

namespace {

QString setting(const Command& entry) { return QStringLiteral("keys/") + QLatin1String(entry.id); }

}  // namespace

QList<QKeySequence> keys_of(const Command& entry) {
    const QString text = QSettings().value(setting(entry), QString::fromLatin1(entry.keys)).toString();
    QList<QKeySequence> keys;
    for (const auto& key : text.split(QLatin1Char(' '), Qt::SkipEmptyParts))
        // Settings can be edited by hand: what is no key is left out.
        if (const auto sequence = QKeySequence::fromString(key, QKeySequence::PortableText); sequence.count() == 1 && sequence[0].key() != Qt::Key_unknown) keys << sequence;
    return keys;
}

QString key_words(const Command& entry) {
    QStringList words;
    for (const auto& key : keys_of(entry)) words << key.toString(QKeySequence::NativeText);
    return words.join(QCoreApplication::translate("Commands", " or "));
}

const Command* holder_of(const QKeySequence& key, const Command& besides) {
    for (const Command& entry : commands())
        if (&entry != &besides && keys_of(entry).contains(key)) return &entry;
    return nullptr;
}

void set_own_key(const Command& entry, const QKeySequence& key) { QSettings().setValue(setting(entry), key.toString(QKeySequence::PortableText)); }

void forget_own_keys() { QSettings().remove(QStringLiteral("keys")); }

}  // namespace wallfoot
