#include "exchange/oneroster.h"

#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "base/text.h"
#include "exchange/csv.h"
#include "exchange/encoding.h"
#include "exchange/roster_collect.h"
#include "exchange/roster_names.h"

namespace tallyround::exchange {

namespace {

using base::fail;
using base::Result;

constexpr std::size_t max_warnings = 50;

/// An id in quotation marks, cut if it is long.
std::string quoted(const std::string& id) {
    return "\"" + base::first_code_points(id, 60) + "\"";
}

/// Where a fault is, as a person finds it.
std::string place(std::string_view file, std::size_t row, std::string_view column = {}) {
    std::string out = std::string(file) + ", row " + std::to_string(row);
    return column.empty() ? out : out + ", " + std::string(column);
}

/// One file of the bundle, its columns known by name.
class Table {
  public:
    static Result<Table> read(std::string_view zip, const ZipEntry& entry) {
        const auto bytes = unzip(zip, entry);
        if (!bytes) return tl::make_unexpected(bytes.error());
        const auto text = to_utf8(*bytes);
        if (!text) return fail(entry.name, text.error().text());
        CsvLimits limits;
        limits.file_bytes = std::max<std::size_t>(limits.file_bytes, bytes->size());
        auto rows = read_csv(text->text, ',', limits);
        if (!rows) return fail(entry.name + ", " + rows.error().where, rows.error().message);
        std::erase_if(*rows, [](const CsvRow& row) { return row.blank(); });
        if (rows->empty()) return fail(entry.name, "There is no header row in it.");
        Table table;
        table.file_ = entry.name;
        for (std::size_t i = 0; i < rows->front().cells.size(); ++i)
            table.columns_.emplace(base::tidy_line(rows->front().cells[i].text), i);
        rows->erase(rows->begin());
        table.rows_ = *std::move(rows);
        return table;
    }

    const std::string& file() const { return file_; }
    const std::vector<CsvRow>& rows() const { return rows_; }
    bool has(std::string_view column) const { return columns_.count(column) > 0; }
    std::string text(const CsvRow& row, std::string_view column) const {
        const auto it = columns_.find(column);
        if (it == columns_.end() || it->second >= row.cells.size()) return {};
        return base::tidy_line(row.cells[it->second].text);
    }
    bool deleted(const CsvRow& row) const { return folded(text(row, "status")) == "tobedeleted"; }
    /// Nothing, or which of these columns is missing.
    Result<bool> needs(std::initializer_list<std::string_view> columns) const {
        for (const std::string_view column : columns) {
            if (!has(column)) {
                return fail(place(file_, 1), "The column " + std::string(column) +
                                                 " is missing. Export all columns of OneRoster.");
            }
        }
        return true;
    }

  private:
    std::string file_;
    std::map<std::string, std::size_t, std::less<>> columns_;
    std::vector<CsvRow> rows_;
};

struct User {
    PersonName name;
    std::size_t row = 0;
};

class Reader {
  public:
    Reader(std::string_view zip, std::vector<ZipEntry> entries)
        : zip_(zip), entries_(std::move(entries)) {}

    Result<OneRosterBundle> read() {
        for (const auto step : {&Reader::read_users, &Reader::read_roles, &Reader::read_classes,
                                &Reader::read_enrollments}) {
            const auto done = (this->*step)();
            if (!done) return tl::make_unexpected(done.error());
        }
        return finish();
    }

  private:
    const ZipEntry* entry(std::string_view name) const {
        const auto it = std::find_if(entries_.begin(), entries_.end(),
                                     [&](const ZipEntry& e) { return e.name == name; });
        return it == entries_.end() ? nullptr : &*it;
    }
    Result<Table> table(std::string_view name) const {
        const ZipEntry* found = entry(name);
        if (found == nullptr) {
            return fail(std::string(name),
                        "This file is not in the zip file. A OneRoster export "
                        "has users.csv, classes.csv and enrollments.csv.");
        }
        return Table::read(zip_, *found);
    }
    void warn(std::string text) {
        if (++warned_ <= max_warnings) out_.warnings.push_back(std::move(text));
    }

    Result<bool> read_users() {
        const auto users = table("users.csv");
        if (!users) return tl::make_unexpected(users.error());
        const auto fits = users->needs({"sourcedId", "givenName", "familyName"});
        if (!fits) return fits;
        out_.version = users->has("role") ? "1.1" : "1.2";
        for (const CsvRow& row : users->rows()) {
            if (users->deleted(row)) continue;
            const std::string id = users->text(row, "sourcedId");
            if (id.empty()) return fail(place(users->file(), row.row, "sourcedId"), "It is empty.");
            const User user{
                from_parts(users->text(row, "givenName"), users->text(row, "familyName")), row.row};
            const auto [twin, fresh] = users_.emplace(id, user);
            if (!fresh) {
                return fail(place(users->file(), row.row, "sourcedId"),
                            quoted(id) + " stands in row " + std::to_string(twin->second.row) +
                                ", too. Export the file again.");
            }
        }
        return true;
    }

    /// 1.2: everybody who has a role and in no row that of a student is none.
    Result<bool> read_roles() {
        if (entry("roles.csv") == nullptr) return true;
        const auto roles = table("roles.csv");
        if (!roles) return tl::make_unexpected(roles.error());
        const auto fits = roles->needs({"userSourcedId", "role"});
        if (!fits) return fits;
        out_.version = "1.2";
        std::set<std::string> students;
        for (const CsvRow& row : roles->rows()) {
            if (roles->deleted(row)) continue;
            const std::string user = roles->text(row, "userSourcedId");
            others_.insert(user);
            if (folded(roles->text(row, "role")) == "student") students.insert(user);
        }
        for (const std::string& user : students)
            others_.erase(user);
        return true;
    }

    Result<bool> read_classes() {
        const auto classes = table("classes.csv");
        if (!classes) return tl::make_unexpected(classes.error());
        const auto fits = classes->needs({"sourcedId", "title"});
        if (!fits) return fits;
        for (const CsvRow& row : classes->rows()) {
            if (classes->deleted(row)) continue;
            OneRosterClass cls;
            cls.id = classes->text(row, "sourcedId");
            if (cls.id.empty())
                return fail(place(classes->file(), row.row, "sourcedId"), "It is empty.");
            cls.title = classes->text(row, "title");
            if (cls.title.empty()) cls.title = classes->text(row, "classCode");
            if (cls.title.empty()) cls.title = cls.id;
            if (!places_.emplace(cls.id, out_.classes.size()).second) {
                return fail(place(classes->file(), row.row, "sourcedId"),
                            quoted(cls.id) + " stands twice. Export the file again.");
            }
            out_.classes.push_back(std::move(cls));
        }
        return true;
    }

    Result<bool> read_enrollments() {
        const auto rows = table("enrollments.csv");
        if (!rows) return tl::make_unexpected(rows.error());
        const auto fits = rows->needs({"classSourcedId", "userSourcedId", "role"});
        if (!fits) return fits;
        in_.resize(out_.classes.size());
        collectors_.resize(out_.classes.size());
        for (const CsvRow& row : rows->rows()) {
            if (rows->deleted(row) || folded(rows->text(row, "role")) != "student") continue;
            const std::string user_id = rows->text(row, "userSourcedId");
            const std::string class_id = rows->text(row, "classSourcedId");
            const auto user = users_.find(user_id);
            const auto cls = places_.find(class_id);
            if (user == users_.end()) {
                warn(place(rows->file(), row.row, "userSourcedId") + ": " + quoted(user_id) +
                     " is not in users.csv and is left out.");
            } else if (cls == places_.end()) {
                warn(place(rows->file(), row.row, "classSourcedId") + ": " + quoted(class_id) +
                     " is not in classes.csv and is left out.");
            } else if (others_.count(user_id) > 0) {
                warn(place(rows->file(), row.row, "userSourcedId") + ": roles.csv does not name " +
                     quoted(user_id) + " as a student; left out.");
            } else if (in_[cls->second].insert(user_id).second) {
                collectors_[cls->second].add(user->second.row, user->second.name, user_id);
            }
        }
        return true;
    }

    Result<OneRosterBundle> finish() {
        std::vector<OneRosterClass> kept;
        for (std::size_t i = 0; i < out_.classes.size(); ++i) {
            if (in_[i].empty()) continue;
            auto roster = collectors_[i].finish(RosterFormat::oneroster_users, Encoding::utf8);
            if (!roster) {
                return fail("class " + out_.classes[i].title, roster.error().text());
            }
            out_.classes[i].roster = *std::move(roster);
            kept.push_back(std::move(out_.classes[i]));
        }
        if (kept.empty()) {
            return fail("enrollments.csv",
                        "No class has a student in it. Choose the export of a "
                        "school year that has begun.");
        }
        out_.classes = std::move(kept);
        if (warned_ > max_warnings) {
            out_.warnings.push_back("And " + std::to_string(warned_ - max_warnings) +
                                    " more of this kind.");
        }
        return std::move(out_);
    }

    std::string_view zip_;
    std::vector<ZipEntry> entries_;
    OneRosterBundle out_;
    std::size_t warned_ = 0;
    std::map<std::string, User> users_;
    std::set<std::string> others_;
    std::map<std::string, std::size_t> places_;
    std::vector<std::set<std::string>> in_;
    std::vector<RosterCollector> collectors_;
};

}  // namespace

Result<OneRosterBundle> read_oneroster(std::string_view zip, const ZipLimits& limits) {
    auto entries = read_zip(zip, limits);
    if (!entries) return tl::make_unexpected(entries.error());
    return Reader(zip, *std::move(entries)).read();
}

}  // namespace tallyround::exchange
