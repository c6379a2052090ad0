/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "emit.h"

struct json json_begin(struct text *out, const struct plan *plan)
{
    struct json json = {out, plan, 0, 0, false};

    return json;
}

void json_end(const struct json *json)
{
    text_add(json->out, "\n");
}

static void newline(struct json *json)
{
    text_add(json->out, "\n");
    text_repeat(json->out, ' ', 2 * json->depth);
}

void json_value(struct json *json, const char *key)
{
    if (json->filled)
        text_add_bytes(json->out, ",", 1);
    if (json->line_depth == 0 && json->depth > 0)
        newline(json);
    else if (json->filled)
        text_add_bytes(json->out, " ", 1);
    json->filled = true;
    if (key) {
        text_json_string(json->out, key);
        text_add_bytes(json->out, ": ", 2);
    }
}

static void open(struct json *json, const char *key, const char *bracket, bool on_line)
{
    json_value(json, key);
    text_add_bytes(json->out, bracket, 1);
    json->depth++;
    if (on_line || json->line_depth > 0)
        json->line_depth++;
    json->filled = false;
}

static void close(struct json *json, const char *bracket)
{
    json->depth--;
    if (json->line_depth > 0)
        json->line_depth--;
    else if (json->filled)
        newline(json);
    text_add_bytes(json->out, bracket, 1);
    json->filled = true;
}

void json_object_open(struct json *json, const char *key)
{
    open(json, key, "{", false);
}

void json_line_open(struct json *json, const char *key)
{
    open(json, key, "{", true);
}

void json_object_close(struct json *json)
{
    close(json, "}");
}

void json_array_open(struct json *json, const char *key)
{
    open(json, key, "[", false);
}

void json_array_line_open(struct json *json, const char *key)
{
    open(json, key, "[", true);
}

void json_array_close(struct json *json)
{
    close(json, "]");
}

void json_number(struct json *json, const char *key, double value)
{
    json_value(json, key);
    text_json_number(json->out, value);
}

void json_whole(struct json *json, const char *key, int64_t value)
{
    json_value(json, key);
    text_digits(json->out, value);
}

void json_whole_or_null(struct json *json, const char *key, int64_t value, bool known)
{
    if (known)
        json_whole(json, key, value);
    else
        json_null(json, key);
}

void json_bool(struct json *json, const char *key, bool value)
{
    json_value(json, key);
    text_add(json->out, value ? "true" : "false");
}

void json_string(struct json *json, const char *key, const char *string)
{
    if (!string) {
        json_null(json, key);
        return;
    }
    json_value(json, key);
    text_json_string(json->out, string);
}

void json_null(struct json *json, const char *key)
{
    json_value(json, key);
    text_add(json->out, "null");
}
