/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * JSON, written as it is said: objects and arrays opened and closed, members in between.
 *
 * Two spaces an indent; an object opened with json_line_open() stands on one line, with all
 * that is in it, so that a long list stays one line an item. Nothing is kept but where we
 * are: an item costs its bytes and no memory of its own. Used by render/json*.c.
 *
 * `key` is the member's name in an object, NULL for an item of an array.
 */
#ifndef STRANDWISE_JSON_EMIT_H
#define STRANDWISE_JSON_EMIT_H

#include <stdbool.h>
#include <stdint.h>

#include "base/text.h"

struct plan;

struct json {
    struct text *out;
    const struct plan *plan; /* for names of yarns and bands; NULL: none are written */
    int depth;      /* open objects and arrays */
    int line_depth; /* how many of them stand on the present line; 0: none */
    bool filled;    /* the innermost one holds something already */
};

struct json json_begin(struct text *out, const struct plan *plan);
void json_end(const struct json *json); /* the newline behind it all */

void json_object_open(struct json *json, const char *key);
void json_line_open(struct json *json, const char *key); /* an object on one line */
void json_object_close(struct json *json);
void json_array_open(struct json *json, const char *key);
void json_array_line_open(struct json *json, const char *key); /* an array on one line */
void json_array_close(struct json *json);

/* Place and key of a value that the caller then appends to json->out in its own way. */
void json_value(struct json *json, const char *key);

void json_number(struct json *json, const char *key, double value); /* not finite: null */
void json_whole(struct json *json, const char *key, int64_t value);
void json_whole_or_null(struct json *json, const char *key, int64_t value, bool known);
void json_bool(struct json *json, const char *key, bool value);
void json_string(struct json *json, const char *key, const char *string); /* NULL: null */
void json_null(struct json *json, const char *key);

#endif
