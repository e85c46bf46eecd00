// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/panels/words.hpp"

#include <QCoreApplication>
#include <algorithm>
#include <cmath>

#include "core/study/words.hpp"
#include "core/text/number_entry.hpp"
#include "solver/findings/derivation_print.hpp"
#include "ui/paint/labels.hpp"

namespace wallfoot {

namespace {
QString say(const char* text) { return QCoreApplication::translate("Words", text); }
}  // namespace

QString words(const std::string& utf8) { return QString::fromStdString(utf8); }
QString sentence(const Message& message) { return words(english(message)); }
QString sentence(const std::string& code) { return sentence(Message{Severity::fault, code, {}, {}, {}}); }
QString sentence(const std::vector<Message>& messages) { return messages.empty() ? QString() : sentence(messages.front()); }
QString name_of(const Piece& piece) { return words(piece.name.empty() ? piece.id : piece.name); }
QString name_of(Condition condition) {
    switch (condition) {
        case Condition::dry: return say(QT_TRANSLATE_NOOP("Words", "dry"));
        case Condition::protected_: return say(QT_TRANSLATE_NOOP("Words", "protected"));
        case Condition::exposed: return say(QT_TRANSLATE_NOOP("Words", "exposed"));
        case Condition::below_dpc: return say(QT_TRANSLATE_NOOP("Words", "below DPC"));
        case Condition::below_ground: return say(QT_TRANSLATE_NOOP("Words", "below ground"));
        case Condition::saturated: return say(QT_TRANSLATE_NOOP("Words", "saturated"));
    }
    return {};
}

QString name_of(MembraneKind kind) {
    switch (kind) {
        case MembraneKind::dpc: return say(QT_TRANSLATE_NOOP("Words", "damp-proof course"));
        case MembraneKind::dpm: return say(QT_TRANSLATE_NOOP("Words", "floor membrane"));
        case MembraneKind::tanking: return say(QT_TRANSLATE_NOOP("Words", "vertical tanking"));
        case MembraneKind::gas: return say(QT_TRANSLATE_NOOP("Words", "gas membrane"));
        case MembraneKind::tray: return say(QT_TRANSLATE_NOOP("Words", "cavity tray"));
    }
    return {};
}

QString name_of(SpaceKind kind) {
    switch (kind) {
        case SpaceKind::inside: return say(QT_TRANSLATE_NOOP("Words", "inside"));
        case SpaceKind::outside: return say(QT_TRANSLATE_NOOP("Words", "outside"));
        case SpaceKind::unheated: return say(QT_TRANSLATE_NOOP("Words", "unheated"));
        case SpaceKind::other: return say(QT_TRANSLATE_NOOP("Words", "other"));
    }
    return {};
}

QString name_of(CutSide side) {
    switch (side) {
        case CutSide::left: return say(QT_TRANSLATE_NOOP("Words", "left"));
        case CutSide::bottom: return say(QT_TRANSLATE_NOOP("Words", "bottom"));
        case CutSide::right: return say(QT_TRANSLATE_NOOP("Words", "right"));
        case CutSide::top: return say(QT_TRANSLATE_NOOP("Words", "top"));
    }
    return {};
}

QString name_of(LevelKind kind) {
    switch (kind) {
        case LevelKind::floor: return say(QT_TRANSLATE_NOOP("Words", "floor level"));
        case LevelKind::ground: return say(QT_TRANSLATE_NOOP("Words", "ground level"));
        case LevelKind::dpc: return say(QT_TRANSLATE_NOOP("Words", "damp-proof course level"));
    }
    return {};
}

QString name_of(const LevelName& level) {
    const QString kind = name_of(level.kind);
    if (!level.side) return kind;
    return *level.side == Side::left ? say(QT_TRANSLATE_NOOP("Words", "%1, left side")).arg(kind) : say(QT_TRANSLATE_NOOP("Words", "%1, right side")).arg(kind);
}

QString name_of(MaterialKind kind) {
    switch (kind) {
        case MaterialKind::masonry: return say(QT_TRANSLATE_NOOP("Words", "masonry"));
        case MaterialKind::concrete: return say(QT_TRANSLATE_NOOP("Words", "concrete"));
        case MaterialKind::mortar: return say(QT_TRANSLATE_NOOP("Words", "mortar"));
        case MaterialKind::render: return say(QT_TRANSLATE_NOOP("Words", "render"));
        case MaterialKind::insulation: return say(QT_TRANSLATE_NOOP("Words", "insulation"));
        case MaterialKind::timber: return say(QT_TRANSLATE_NOOP("Words", "timber"));
        case MaterialKind::metal: return say(QT_TRANSLATE_NOOP("Words", "metal"));
        case MaterialKind::soil: return say(QT_TRANSLATE_NOOP("Words", "soil"));
        case MaterialKind::granular: return say(QT_TRANSLATE_NOOP("Words", "granular"));
        case MaterialKind::airspace: return say(QT_TRANSLATE_NOOP("Words", "airspace"));
        case MaterialKind::membrane: return say(QT_TRANSLATE_NOOP("Words", "membrane"));
        case MaterialKind::other: return say(QT_TRANSLATE_NOOP("Words", "other"));
    }
    return {};
}

QString name_of(Basis basis) {
    switch (basis) {
        case Basis::oven_dry: return say(QT_TRANSLATE_NOOP("Words", "oven-dry"));
        case Basis::at_moisture: return say(QT_TRANSLATE_NOOP("Words", "at a moisture content"));
        case Basis::measured: return say(QT_TRANSLATE_NOOP("Words", "measured"));
        case Basis::not_stated: return say(QT_TRANSLATE_NOOP("Words", "not stated"));
    }
    return {};
}

const std::vector<MaterialKind>& material_kinds() {
    static const std::vector<MaterialKind> kinds = [] {
        std::vector<MaterialKind> all;
        for (const auto& [kind, word] : material_kind_words) all.push_back(kind);
        return all;
    }();
    return kinds;
}

const std::vector<Basis>& all_bases() {
    static const std::vector<Basis> bases{Basis::not_stated, Basis::oven_dry, Basis::at_moisture, Basis::measured};
    return bases;
}

QString space_label(const Section& section, int space) {
    if (space < 0 || space >= static_cast<int>(section.spaces.size())) return QStringLiteral("?");
    return space_name(section, section.spaces[static_cast<std::size_t>(space)]);
}

QString length_words(double mm) { return words(length_text(mm)); }

QString value_words(double value, const char* unit, int significant) {
    const double size = std::abs(value);
    const int before = size >= 1 ? static_cast<int>(std::floor(std::log10(size))) + 1 : size > 0 ? static_cast<int>(std::ceil(std::log10(size))) : 1;
    const QString text = words(number_text(value, std::clamp(significant - before, 0, 6)));
    return *unit ? text + QChar(0xa0) + QString::fromUtf8(unit) : text;
}

QString bracket_words(const Bracketed& value, const char* unit) {
    return words(with_bracket(value)) + QChar(0xa0) + QString::fromUtf8(unit);
}

QString short_value(const Bracketed& value) {
    const double half = std::max(value.width() / 2, 1e-12);
    const int decimals = std::clamp(static_cast<int>(std::floor(-std::log10(half))), 0, 3);
    return words(number_text(value.value, decimals));
}

std::vector<Message> faults_of(const std::vector<Message>& messages) {
    std::vector<Message> faults;
    std::copy_if(messages.begin(), messages.end(), std::back_inserter(faults), [](const Message& m) { return m.severity == Severity::fault; });
    std::stable_partition(faults.begin(), faults.end(), [](const Message& m) { return m.at.has_value(); });
    return faults;
}

QString derived_words(const Derivation& derivation) {
    QString text;
    const auto lines = derivation_lines(derivation);
    for (std::size_t i = 0; i < lines.size(); ++i) text += (i == 0 ? QString() : QStringLiteral("    ")) + words(lines[i]) + QLatin1Char('\n');
    return text;
}

}  // namespace wallfoot
