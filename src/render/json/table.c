/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "table.h"

#include "plan/plan.h"

/* Members as wide as an int or a bool: enums are stored as either. */
static int read_int(const char *at, size_t size)
{
    return size == sizeof(bool) ? *(const bool *)at : *(const int *)at;
}

static const char *name_of_yarn(const struct json *json, int yarn)
{
    const struct plan_piece *piece = &json->plan->piece;

    return yarn >= 0 && yarn < piece->nyarns ? piece->yarns[yarn].name : NULL;
}

static const char *name_of_band(const struct json *json, int band)
{
    return band >= 0 ? json->plan->piece.bands[band].name : NULL;
}

/* NULL where it is pointed to and nothing is there. */
static const char *find(const struct json_value *value, const struct json_at *at)
{
    const char *there = (const char *)at->object + value->offset;

    if (value->pointed)
        there = *(const char *const *)there;
    return there ? there + value->inner : NULL;
}

static bool in_range(double number, int range)
{
    switch (range & (OR_NULL - 1)) {
    case FROM_0:
        return number >= 0.0;
    case FROM_1:
        return number >= 1.0;
    case OVER_0:
        return number > 0.0;
    default:
        return true;
    }
}

static void write_whole(struct json *json, const struct json_row *row, int64_t number)
{
    json_whole_or_null(json, row->key, number, !(row->range & OR_NULL) || in_range((double)number, row->range));
}

static void write_double(struct json *json, const struct json_row *row, double number)
{
    if ((row->range & OR_NULL) && !in_range(number, row->range))
        json_null(json, row->key);
    else
        json_number(json, row->key, number);
}

static int list_length(const struct json_value *value, const struct json_at *at)
{
    return value->count ? value->count(at) : *(const int *)((const char *)at->object + value->count_offset);
}

static void write_list(struct json *json, const struct json_row *row, const struct json_at *at)
{
    const struct json_value *value = &row->value;
    int length = list_length(value, at);

    json_array_open(json, row->key);
    for (int i = 0; i < length; i++) {
        const char *there = find(value, at) + (size_t)i * value->size;
        struct json_at item = {value->of_pointers ? *(const void *const *)there : there, i, at};

        if (!value->only || value->only(&item))
            json_write_table(json, NULL, value->table, &item);
    }
    json_array_close(json);
}

static void write_numbers(struct json *json, const struct json_row *row, const struct json_at *at)
{
    int length = list_length(&row->value, at);

    json_array_open(json, row->key);
    for (int i = 0; i < length; i++)
        json_whole(json, NULL, ((const int *)find(&row->value, at))[i] + (row->value.item == JSON_NUMBERED));
    json_array_close(json);
}

static void write_bands(struct json *json, const char *key, uint64_t bands)
{
    json_array_open(json, key);
    for (int i = 0; i < json->plan->piece.nbands && i < 64; i++)
        if (bands >> i & 1)
            json_string(json, NULL, name_of_band(json, i));
    json_array_close(json);
}

static void write_object(struct json *json, const struct json_row *row, const struct json_at *at)
{
    struct json_at inside = {find(&row->value, at), 0, at};

    json_write_table(json, row->key, row->value.table, &inside);
}

static void write_value(struct json *json, const struct json_row *row, const struct json_at *at)
{
    static const int64_t zero = 0;
    const struct json_value *value = &row->value;
    const char *there = find(value, at);

    if (!there && row->range & OR_ABSENT)
        return;
    if (!there && row->range & OR_NULL) {
        json_null(json, row->key);
        return;
    }
    if (!there)
        there = (const char *)&zero;
    switch (value->kind) {
    case JSON_NOTHING:
        break;
    case JSON_INT:
        write_whole(json, row, *(const int *)there);
        break;
    case JSON_INT64:
        write_whole(json, row, *(const int64_t *)there);
        break;
    case JSON_NUMBERED:
        write_whole(json, row, (int64_t) * (const int *)there + 1);
        break;
    case JSON_DOUBLE:
        write_double(json, row, *(const double *)there);
        break;
    case JSON_BOOL:
        json_bool(json, row->key, *(const bool *)there);
        break;
    case JSON_STRING:
        json_string(json, row->key, *(const char *const *)there);
        break;
    case JSON_YARN:
        json_string(json, row->key, name_of_yarn(json, *(const int *)there));
        break;
    case JSON_YARN_BYTE:
        json_string(json, row->key, name_of_yarn(json, *(const uint8_t *)there));
        break;
    case JSON_BAND:
        json_string(json, row->key, name_of_band(json, *(const int *)there));
        break;
    case JSON_WORD:
        json_string(json, row->key, value->words[read_int(there, value->size)]);
        break;
    case JSON_OBJECT:
        write_object(json, row, at);
        break;
    case JSON_LIST:
        write_list(json, row, at);
        break;
    case JSON_NUMBERS:
        write_numbers(json, row, at);
        break;
    case JSON_BANDS:
        write_bands(json, row->key, *(const uint64_t *)there);
        break;
    }
}

/* `when` of a row: nothing, a test, or a member that is true, over 0 or a pointer to something. */
static bool holds(const struct json_value *when, const struct json_at *at)
{
    const char *there = (const char *)at->object + when->offset;

    if (when->test)
        return when->test(at);
    switch (when->kind) {
    case JSON_NOTHING:
        return true;
    case JSON_BOOL:
        return *(const bool *)there;
    case JSON_INT:
        return *(const int *)there > 0;
    case JSON_INT64:
        return *(const int64_t *)there > 0;
    default:
        return *(const void *const *)there;
    }
}

void json_write_rows(struct json *json, const struct json_table *table, const struct json_at *at)
{
    for (const struct json_row *row = table->rows; row->key; row++) {
        if (!holds(&row->when, at))
            json_null(json, row->key);
        else if (row->value.write && row->value.pointed)
            row->value.write(json, row->key, &(struct json_at){find(&row->value, at), 0, at});
        else if (row->value.write)
            row->value.write(json, row->key, at);
        else
            write_value(json, row, at);
    }
}

void json_write_table(struct json *json, const char *key, const struct json_table *table, const struct json_at *at)
{
    if (table->layout == ON_A_LINE)
        json_line_open(json, key);
    else
        json_object_open(json, key);
    json_write_rows(json, table, at);
    json_object_close(json);
}
