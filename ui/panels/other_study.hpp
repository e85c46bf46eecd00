// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QObject>
#include <QThreadPool>
#include <vector>

#include "core/context/context.hpp"
#include "ui/panels/compared.hpp"

namespace wallfoot {

/// Another study file, read and worked out off the window's thread. It is never written to and not locked.
class OtherStudy : public QObject {
    Q_OBJECT
  public:
    explicit OtherStudy(QObject* parent = nullptr);
    ~OtherStudy() override;

    void open(const QString& path);
    void stop();
    bool busy() const { return running_ != nullptr; }
    QString name() const { return name_; }            ///< of the file, without folder and ending
    QString problem() const { return problem_; }      ///< why it cannot be shown, "" for none
    const std::vector<Compared>& variants() const { return variants_; }
    std::size_t worked_out() const;

  signals:
    void changed();

  private:
    void take(std::shared_ptr<const Study> study, const QString& why);

    QString name_, problem_;
    std::vector<Compared> variants_;
    std::shared_ptr<Context> running_;
    QThreadPool pool_;
};

}  // namespace wallfoot
