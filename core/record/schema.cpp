#include "record/schema.h"

#include <nlohmann/json.hpp>

#include "record/members.h"

namespace tallyround::record {

namespace {

using json::Json;

Json whole(std::int64_t low, std::int64_t high) {
    return {{"type", "integer"}, {"minimum", low}, {"maximum", high}};
}

Json id_schema(bool empty_too) {
    return {{"type", "string"},
            {"pattern", empty_too ? "^[A-Za-z0-9._-]{0,23}$" : "^[A-Za-z0-9._-]{1,23}$"}};
}

Json list_of(Json items) {
    return {{"type", "array"}, {"items", std::move(items)}};
}

/// Exactly these places, in order.
Json tuple_of(Json places) {
    const auto size = places.size();
    return {{"type", "array"},
            {"prefixItems", std::move(places)},
            {"items", false},
            {"minItems", size}};
}

template <class T>
struct Schema;

template <class T>
struct Whole {
    static Json of(std::int64_t low, std::int64_t high) { return whole(low, high); }
};
template <>
struct Schema<int> : Whole<int> {};
template <>
struct Schema<std::int64_t> : Whole<std::int64_t> {};
template <>
struct Schema<bool> {
    static Json of(std::int64_t, std::int64_t) { return {{"type", "boolean"}}; }
};
template <>
struct Schema<std::string> {
    static Json of(std::int64_t, std::int64_t high) {
        return {{"type", "string"}, {"maxLength", high}};
    }
};
template <class Tag>
struct Schema<base::Id<Tag>> {
    static Json of(std::int64_t, std::int64_t) { return id_schema(false); }
};
template <class E>
requires std::is_enum_v<E>
struct Schema<E> {
    static Json of(std::int64_t, std::int64_t) {
        Json words = Json::array();
        for (const auto word : Words<E>::list)
            words.push_back(word);
        return {{"enum", words}};
    }
};
template <>
struct Schema<EventRef> {
    static Json of(std::int64_t, std::int64_t) {
        return tuple_of(Json::array({id_schema(false), whole(0, max_ms)}));
    }
};
template <>
struct Schema<Period> {
    static Json of(std::int64_t, std::int64_t) {
        const Json time = {{"type", "string"},
                           {"pattern", "^(([01][0-9]|2[0-3]):[0-5][0-9]|24:00)(:00)?$"}};
        const Json date = {{"type", "string"}, {"pattern", "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}};
        const Json gap = {{"type", "object"},
                          {"properties", {{"start", time}, {"end", time}}},
                          {"required", {"start", "end"}}};
        return {{"type", "object"},
                {"properties",
                 {{"date", date}, {"start", time}, {"end", time}, {"breaks", list_of(gap)}}},
                {"required", {"date", "start", "end"}}};
    }
};
template <class T>
struct Schema<std::vector<T>> {
    static Json of(std::int64_t low, std::int64_t high) {
        return list_of(Schema<T>::of(low, high));
    }
};
template <>
struct Schema<std::vector<CenterId>> {
    static Json of(std::int64_t, std::int64_t) { return list_of(id_schema(true)); }
};

template <class Owner>
Json object_schema() {
    Json properties = Json::object();
    Json required = Json::array();
    each_member<Owner>([&](const auto& m) {
        using Value = std::remove_cvref_t<decltype(std::declval<Owner>().*m.at)>;
        properties[std::string(m.name)] = Schema<Value>::of(m.low, m.high);
        if (!m.optional) required.push_back(m.name);
    });
    return {{"type", "object"}, {"properties", properties}, {"required", required}};
}

template <Part T>
struct Schema<T> {
    static Json of(std::int64_t, std::int64_t) { return object_schema<T>(); }
};

/// `if` the kind is this one, `then` its members are these.
template <class... Bodies>
Json kinds(std::variant<Bodies...>*) {
    Json all = Json::array();
    const auto add = [&]<class B>(members::Tag<B>) {
        if constexpr (!std::is_same_v<B, Foreign>) {
            const Json is = {{"properties", {{"kind", {{"const", Described<B>::kind}}}}}};
            all.push_back({{"if", is}, {"then", object_schema<B>()}});
        }
    };
    (add(members::Tag<Bodies>{}), ...);
    return all;
}

}  // namespace

Json event_schema() {
    const Json stamp = tuple_of(Json::array({whole(0, max_ms), whole(0, 0xFFFFFFFFLL)}));
    return {{"type", "object"},
            {"properties",
             {{"at", stamp},
              {"by", id_schema(false)},
              {"n", whole(1, max_ms)},
              {"kind", {{"type", "string"}, {"maxLength", 10'000}}}}},
            {"required", {"at", "by", "n", "kind"}},
            {"allOf", kinds(static_cast<Body*>(nullptr))}};
}

}  // namespace tallyround::record
