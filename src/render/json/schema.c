/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The JSON schema, from the tables that write the JSON.
 */
#include "table.h"

enum { NAMED_MAX = 64 };

/* Tables with a name, in the order they are first met. */
struct named {
    const struct json_table *table[NAMED_MAX];
    int count;
};

/* Of a value that is no object, list or word. */
static const char *type_of(enum json_kind kind)
{
    static const char *const types[] = {
        [JSON_INT] = "integer", [JSON_INT64] = "integer", [JSON_NUMBERED] = "integer", [JSON_DOUBLE] = "number",
        [JSON_BOOL] = "boolean", [JSON_STRING] = "string", [JSON_YARN] = "string", [JSON_YARN_BYTE] = "string",
        [JSON_BAND] = "string"};

    return types[kind];
}

static void write_type(struct json *json, const char *type, bool or_null)
{
    if (!or_null) {
        json_string(json, "type", type);
        return;
    }
    json_array_line_open(json, "type");
    json_string(json, NULL, type);
    json_string(json, NULL, "null");
    json_array_close(json);
}

static void write_range(struct json *json, int range)
{
    int from = range & (OR_NULL - 1);

    if (from == FROM_0 || from == PART)
        json_whole(json, "minimum", 0);
    if (from == FROM_1)
        json_whole(json, "minimum", 1);
    if (from == OVER_0)
        json_whole(json, "exclusiveMinimum", 0);
    if (from == PART)
        json_whole(json, "maximum", 1);
}

static void write_words(struct json *json, const struct json_value *value)
{
    bool none = false;

    json_array_line_open(json, "enum");
    for (int i = 0; i < value->nwords; i++)
        if (value->words[i])
            json_string(json, NULL, value->words[i]);
        else
            none = true;
    if (none)
        json_null(json, NULL);
    json_array_close(json);
}

static void write_object(struct json *json, const struct json_table *table, bool or_null);

/* What an object is: said here, or by its name. */
static void write_table(struct json *json, const struct json_table *table, bool or_null)
{
    struct text path = text_create(json->out->arena);

    if (!table->name) {
        write_object(json, table, or_null);
        return;
    }
    text_addf(&path, "#/$defs/%s", table->name);
    if (or_null) {
        json_array_line_open(json, "oneOf");
        json_line_open(json, NULL);
    }
    json_string(json, "$ref", path.bytes);
    if (or_null) {
        json_object_close(json);
        json_line_open(json, NULL);
        json_string(json, "type", "null");
        json_object_close(json);
        json_array_close(json);
    }
}

/* Type and range of a plain value. */
static void write_plain(struct json *json, enum json_kind kind, int range)
{
    write_type(json, type_of(kind), range & OR_NULL);
    write_range(json, range);
}

static void write_items(struct json *json, const struct json_row *row)
{
    const struct json_table *table = row->value.table;

    json_string(json, "type", "array");
    if (table && !table->name)
        json_object_open(json, "items");
    else
        json_line_open(json, "items");
    if (row->each)
        json_string(json, "description", row->each);
    if (table)
        write_table(json, table, false);
    else
        write_plain(json, row->value.item, row->range);
    json_object_close(json);
}

static void write_row(struct json *json, const struct json_row *row)
{
    const struct json_value *value = &row->value;
    bool list = value->kind == JSON_LIST || value->kind == JSON_NUMBERS || value->kind == JSON_BANDS;

    if (value->table && !value->table->name)
        json_object_open(json, row->key);
    else
        json_line_open(json, row->key);
    json_string(json, "description", row->says);
    if (list)
        write_items(json, row);
    else if (value->table)
        write_table(json, value->table, row->range & OR_NULL);
    else if (value->words)
        write_words(json, value);
    else
        write_plain(json, value->kind, row->range);
    if (row->more) {
        json_value(json, NULL);
        text_add(json->out, row->more);
    }
    json_object_close(json);
}

static void write_object(struct json *json, const struct json_table *table, bool or_null)
{
    write_type(json, "object", or_null);
    json_bool(json, "additionalProperties", false);
    json_array_line_open(json, "required");
    for (const struct json_row *row = table->rows; row->key; row++)
        if (!(row->range & OR_ABSENT))
            json_string(json, NULL, row->key);
    json_array_close(json);
    json_object_open(json, "properties");
    for (const struct json_row *row = table->rows; row->key; row++)
        write_row(json, row);
    json_object_close(json);
}

static void find_named(struct named *named, const struct json_table *table)
{
    for (const struct json_row *row = table->rows; row->key; row++) {
        const struct json_table *of = row->value.table;
        int i = 0;

        if (!of)
            continue;
        while (i < named->count && named->table[i] != of)
            i++;
        if (i < named->count)
            continue;
        if (of->name && named->count < NAMED_MAX)
            named->table[named->count++] = of;
        find_named(named, of);
    }
}

void json_write_schema(struct text *out, const struct json_table *table, const char *title, const char *says)
{
    struct json json = json_begin(out, NULL);
    struct named named = {.count = 0};

    find_named(&named, table);
    json_object_open(&json, NULL);
    json_string(&json, "$schema", "https://json-schema.org/draft/2020-12/schema");
    json_string(&json, "title", title);
    json_string(&json, "description", says);
    write_object(&json, table, false);
    json_object_open(&json, "$defs");
    for (int i = 0; i < named.count; i++) {
        json_object_open(&json, named.table[i]->name);
        if (named.table[i]->says)
            json_string(&json, "description", named.table[i]->says);
        write_object(&json, named.table[i], false);
        json_object_close(&json);
    }
    json_object_close(&json);
    json_object_close(&json);
    json_end(&json);
}
