// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/exchange/pdf_file.hpp"

#include <poppler-qt6.h>

#include <QPaintDevice>
#include <QPaintEngine>
#include <QPainter>
#include <QPainterPath>
#include <cmath>
#include <mutex>

#include "core/text/message.hpp"

namespace wallfoot {

namespace {

[[noreturn]] void refuse(const char* code, std::map<std::string, std::string> args = {}) { throw InputFault(Message{Severity::fault, code, std::move(args), {}, {}}); }

/// Takes down the straight parts of what is painted and paints nothing.
class LineEngine : public QPaintEngine {
  public:
    LineEngine() : QPaintEngine(AllFeatures) {}
    bool begin(QPaintDevice*) override { return true; }
    bool end() override { return true; }
    void updateState(const QPaintEngineState& state) override {
        if (state.state() & DirtyTransform) transform_ = state.transform();
    }
    void drawPixmap(const QRectF&, const QPixmap&, const QRectF&) override {}
    void drawImage(const QRectF&, const QImage&, const QRectF&, Qt::ImageConversionFlags) override {}
    void drawTextItem(const QPointF&, const QTextItem&) override {}
    void drawPolygon(const QPointF* points, int count, PolygonDrawMode mode) override {
        for (int i = 1; i < count; ++i) add(points[i - 1], points[i]);
        if (mode != PolylineMode && count > 2) add(points[count - 1], points[0]);
    }
    void drawPath(const QPainterPath& path) override {
        QPointF at;
        for (int i = 0; i < path.elementCount(); ++i) {
            const QPainterPath::Element element = path.elementAt(i);
            if (element.type == QPainterPath::LineToElement) add(at, element);
            at = element;
        }
    }
    Type type() const override { return User; }

    std::vector<QLineF> lines;

  private:
    void add(QPointF a, QPointF b) {
        if (lines.size() >= PdfFile::line_limit) return;
        const QLineF line(transform_.map(a), transform_.map(b));
        if (line.length() > 1e-3 && std::isfinite(line.length())) lines.push_back(line);
    }
    QTransform transform_;
};

class LineDevice : public QPaintDevice {
  public:
    explicit LineDevice(QSizeF points) : size_(points) {}
    QPaintEngine* paintEngine() const override { return &engine; }
    int metric(PaintDeviceMetric metric) const override {
        switch (metric) {
            case PdmWidth: return static_cast<int>(std::ceil(size_.width()));
            case PdmHeight: return static_cast<int>(std::ceil(size_.height()));
            case PdmWidthMM: return static_cast<int>(size_.width() * 25.4 / 72);
            case PdmHeightMM: return static_cast<int>(size_.height() * 25.4 / 72);
            case PdmDpiX:
            case PdmDpiY:
            case PdmPhysicalDpiX:
            case PdmPhysicalDpiY: return 72;
            case PdmNumColors: return 1 << 24;
            case PdmDepth: return 32;
            case PdmDevicePixelRatio: return 1;
            case PdmDevicePixelRatioScaled: return static_cast<int>(devicePixelRatioFScale());
            default: return 0;
        }
    }
    mutable LineEngine engine;

  private:
    QSizeF size_;
};

}  // namespace

PdfFile::PdfFile(const std::string& bytes) {
    static std::once_flag quiet;  // one for all threads
    std::call_once(quiet, [] { Poppler::setDebugErrorFunction([](const QString&, const QVariant&) {}, {}); });
    document_ = Poppler::Document::loadFromData(QByteArray(bytes.data(), static_cast<qsizetype>(bytes.size())));
    if (!document_) refuse("pdf-damaged");
    if (document_->isLocked()) refuse("pdf-locked");
    if (document_->numPages() < 1) refuse("pdf-damaged");
}

PdfFile::~PdfFile() = default;

int PdfFile::pages() const { return document_->numPages(); }

QSizeF PdfFile::size(int page) const {
    const auto shown = page >= 1 && page <= pages() ? document_->page(page - 1) : nullptr;
    if (!shown) refuse("pdf-no-page", {{"page", std::to_string(page)}, {"pages", std::to_string(pages())}});
    const QSizeF size = shown->pageSizeF();
    constexpr double longest = 30'000;  // points: some 10 m
    if (!(size.width() > 0) || !(size.height() > 0) || size.width() > longest || size.height() > longest) refuse("pdf-page-too-large", {{"page", std::to_string(page)}});
    return size;
}

QImage PdfFile::image(int page, double pixels) const {
    const QSizeF size = this->size(page);
    const double dpi = std::min(600.0, 72 * std::sqrt(pixels / (size.width() * size.height())));
    document_->setRenderBackend(Poppler::Document::SplashBackend);
    document_->setRenderHint(Poppler::Document::Antialiasing);
    document_->setRenderHint(Poppler::Document::TextAntialiasing);
    return document_->page(page - 1)->renderToImage(dpi, dpi);
}

QByteArray PdfFile::study() const {
    for (Poppler::EmbeddedFile* file : document_->embeddedFiles())
        if (file->name().endsWith(QStringLiteral(".wallfoot"), Qt::CaseInsensitive)) return file->data();
    // A study of another ending goes into the report under its own name.
    for (Poppler::EmbeddedFile* file : document_->embeddedFiles())
        if (file->data().trimmed().startsWith('{')) return file->data();
    refuse("pdf-no-study");
}

QString PdfFile::creator() const { return document_->info(QStringLiteral("Creator")); }

std::vector<QLineF> PdfFile::lines(int page) const {
    const QSizeF size = this->size(page);
    document_->setRenderBackend(Poppler::Document::QPainterBackend);
    LineDevice device(size);
    QPainter painter(&device);
    document_->page(page - 1)->renderToPainter(&painter, 72, 72);
    painter.end();
    for (QLineF& line : device.engine.lines) line = {line.x1(), size.height() - line.y1(), line.x2(), size.height() - line.y2()};
    return std::move(device.engine.lines);
}

}  // namespace wallfoot
