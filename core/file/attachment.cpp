// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/file/attachment.hpp"

#include <array>
#include <sha256.h>

#include "core/file/fields.hpp"

namespace wallfoot {

namespace {

constexpr std::string_view digits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

constexpr std::array<signed char, 256> values = [] {
    std::array<signed char, 256> table{};
    table.fill(-1);
    for (std::size_t i = 0; i < digits.size(); ++i) table[static_cast<unsigned char>(digits[i])] = static_cast<signed char>(i);
    return table;
}();

}  // namespace

std::string sha256_of(std::string_view bytes) {
    SHA256_CTX context;
    char digest[SHA256_DIGEST_STRING_LENGTH];
    SHA256Init(&context);
    SHA256Update(&context, reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
    SHA256End(&context, digest);
    return digest;
}

AttachedFile attached_file(std::string type, std::string name, std::string bytes) {
    std::string hash = sha256_of(bytes);
    return {std::move(hash), std::make_shared<const Attachment>(Attachment{std::move(type), std::move(name), std::move(bytes), {}})};
}

std::string base64_of(std::string_view bytes) {
    std::string text;
    text.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t i = 0; i < bytes.size(); i += 3) {
        const auto byte = [&](std::size_t k) { return i + k < bytes.size() ? static_cast<unsigned char>(bytes[i + k]) : 0u; };
        const unsigned three = byte(0) << 16 | byte(1) << 8 | byte(2);
        for (int k = 0; k < 4; ++k) text += i + static_cast<std::size_t>(k) <= bytes.size() ? digits[three >> (18 - 6 * k) & 63] : '=';
    }
    return text;
}

std::optional<std::string> bytes_of_base64(std::string_view text) {
    if (text.size() % 4 != 0) return std::nullopt;
    std::string bytes;
    bytes.reserve(text.size() / 4 * 3);
    for (std::size_t i = 0; i < text.size(); i += 4) {
        const bool last = i + 4 == text.size();
        const int padding = last && text[i + 3] == '=' ? (text[i + 2] == '=' ? 2 : 1) : 0;
        unsigned three = 0;
        for (std::size_t k = 0; k < 4; ++k) {
            const int value = k >= 4u - static_cast<unsigned>(padding) ? 0 : values[static_cast<unsigned char>(text[i + k])];
            if (value < 0) return std::nullopt;
            three = three << 6 | static_cast<unsigned>(value);
        }
        for (int k = 0; k < 3 - padding; ++k) bytes += static_cast<char>(three >> (16 - 8 * k) & 255);
    }
    return bytes;
}

namespace file {

void read_attachments(Fields& fields, Study& study) {
    Found& found = fields.found();
    const auto* value = fields.find("attachments");
    if (!value) return;
    const Where place = fields.at("attachments");
    const auto* object = value->as<json::Object>();
    if (!object) return wrong_type(found, *value, place, "an object");
    std::size_t together = 0;
    for (const auto& [name, item] : *object) {
        const Where where(place, name);
        Fields parts(found, item, where);
        Attachment attachment;
        attachment.type = parts.text("type");
        attachment.name = parts.text("name");
        const auto* data = parts.need("data");
        const auto* text = data ? data->as<std::string>() : nullptr;
        if (data && !text) wrong_type(found, *data, parts.at("data"), "a text");
        if (text) {
            const std::size_t size = text->size() / 4 * 3;
            together += size;
            if (size > attachment_limit + 2) {
                found.fault("attachment-too-large", where, {});
            } else if (auto bytes = bytes_of_base64(*text)) {
                attachment.bytes = std::move(*bytes);
                if (sha256_of(attachment.bytes) != name) found.warn("attachment-altered", where, {{"name", attachment.name.empty() ? name : attachment.name}});
            } else {
                found.fault("attachment-not-base64", parts.at("data"));
            }
        }
        attachment.extra = parts.rest();
        study.attachments[name] = std::make_shared<const Attachment>(std::move(attachment));
    }
    if (together > attachments_limit + 2) found.fault("attachments-too-large", place, {});
}

json::Value write_attachment(const Attachment& attachment) {
    json::Object object{{"data", base64_of(attachment.bytes)}};
    put_text(object, "type", attachment.type);
    put_text(object, "name", attachment.name);
    put_extra(object, attachment.extra);
    return object;
}

Underlay read_underlay(Found& found, const json::Value& value, const Where& where) {
    Fields fields(found, value, where);
    Underlay underlay;
    underlay.id = fields.id();
    if (fields.need("attachment")) underlay.attachment = fields.text("attachment");
    underlay.kind = fields.need_word("kind", underlay_kind_words);
    underlay.page = static_cast<int>(fields.number("page", {1, 1e6}).value_or(1));
    if (const auto* at = fields.find("origin")) underlay.origin = read_point(found, *at, fields.at("origin")).value_or(Point{});
    underlay.scale = fields.number("scale", {1e-9, 1e9}).value_or(1);
    underlay.rotation = fields.number("rotation", {-360, 360}).value_or(0);
    underlay.mirrored = fields.flag("mirrored").value_or(false);
    underlay.opacity = fields.number("opacity", {0, 1}).value_or(0.5);
    underlay.locked = fields.flag("locked").value_or(true);
    underlay.visible = fields.flag("visible").value_or(true);
    underlay.not_to_scale = fields.flag("not_to_scale").value_or(false);
    underlay.extra = fields.rest();
    return underlay;
}

json::Value write_underlay(const Underlay& underlay) {
    json::Object object{{"id", underlay.id}, {"attachment", underlay.attachment}, {"kind", std::string(word_of(underlay_kind_words, underlay.kind))},
                        {"origin", json::Array{write_length(underlay.origin.x), write_length(underlay.origin.y)}},
                        {"scale", underlay.scale}, {"opacity", underlay.opacity}, {"locked", underlay.locked}, {"visible", underlay.visible}};
    if (underlay.page != 1) object["page"] = static_cast<double>(underlay.page);
    if (underlay.rotation != 0) object["rotation"] = underlay.rotation;
    if (underlay.mirrored) object["mirrored"] = true;
    if (underlay.not_to_scale) object["not_to_scale"] = true;
    put_extra(object, underlay.extra);
    return object;
}

}  // namespace file

}  // namespace wallfoot
