#pragma once
#include <map>
#include <string>

#include "exchange/export.h"

namespace tallyround::exchange {

/// What one class and what is in it are called in an export, with or without pseudonyms.
class ExportNames {
  public:
    /// `place` counts the record's classes from 0. The class must live as long as this.
    ExportNames(const model::Class& cls, std::size_t place, const ExportOptions& options);

    const std::string& class_name() const { return class_name_; }
    std::string student(const model::Student& student) const;
    std::string student_id(const model::Student& student) const;
    std::string block(const model::BlockId& id) const;
    std::string center(const model::BlockId& block, const model::CenterId& id) const;
    std::string center(const model::Center& center) const;
    std::string skill_title(const model::SkillId& id) const;
    /// Where the student stands in the export's order.
    std::size_t order(const model::StudentId& id) const;

  private:
    const model::Class& cls_;
    const ExportOptions& options_;
    std::string class_name_;
    std::map<model::StudentId, std::size_t> order_;
};

}  // namespace tallyround::exchange
