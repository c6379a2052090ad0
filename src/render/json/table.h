/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the JSON says, as tables: a row for each name, with where its value is stored, what it may be, and what
 * it means. json_write_table() writes an object by its table, json_write_schema() the schema by the same one.
 * Used by render/json alone.
 *
 *     static const struct json_table rib = {ON_A_LINE, ROWS{
 *         {"knit", AT(plan_cast_on, rib_knit), FROM_1, "Knit stitches of the rib, a count."},
 *         {0}}};
 *
 * How a value is stored is taken from the member's type. What no macro below fits is written by a function.
 */
#ifndef STRANDWISE_JSON_TABLE_H
#define STRANDWISE_JSON_TABLE_H

#include <stddef.h>

#include "emit.h"

/* Rows end where there is nothing more to say. */
#pragma GCC diagnostic ignored "-Wmissing-field-initializers"

/* What a number may be, and flags. OR_NULL: also null, and that is what stands where the pointer is NULL, the
 * number not finite or out of its range, or the row's `when` not so. */
enum json_range {
    ANY,
    FROM_0,
    FROM_1,
    OVER_0,
    PART, /* 0 to 1 */
    RANGES,
    OR_NULL = 16,
    OR_ABSENT = 32 /* the name is left out where the pointer is NULL */
};

enum json_kind {
    JSON_NOTHING, /* of `when`: always */
    JSON_INT,
    JSON_INT64,
    JSON_DOUBLE,
    JSON_BOOL,
    JSON_STRING,
    JSON_NUMBERED, /* an int that counts from 0, written from 1 */
    JSON_YARN,     /* an int: name of that yarn; of none: null */
    JSON_YARN_BYTE,
    JSON_BAND,     /* likewise of a band */
    JSON_WORD,
    JSON_OBJECT,
    JSON_LIST,     /* of objects */
    JSON_NUMBERS,  /* list of int; the row's range is that of each */
    JSON_BANDS     /* a bit for each band: list of names */
};

/* An object being written, and those round it. */
struct json_at {
    const void *object;
    int index; /* of it in its list, from 0 */
    const struct json_at *up;
};

struct json_value {
    enum json_kind kind;
    size_t offset;
    bool pointed;     /* it is not there but pointed to from there; a number is then `inner` further on, 0 by NULL */
    size_t inner;
    size_t size;      /* bytes of an item of a list, or of the number behind a word */
    bool of_pointers; /* a list of pointers to its items */
    size_t count_offset; /* of a list: an int */
    const struct json_table *table;
    enum json_kind item; /* of a list without a table */
    const char *const *words; /* by number, NULL: null; of a string: all it can be */
    int nwords;
    /* In place of all that. `at` is the object, or what is pointed to from it. */
    void (*write)(struct json *json, const char *key, const struct json_at *at);
    bool (*test)(const struct json_at *at);  /* of `when` */
    int (*count)(const struct json_at *at); /* of a list that has no number beside it; `at` is what it stands in */
    bool (*only)(const struct json_at *at); /* of a list: items left out where it says so; `at` is the item */
};

struct json_row {
    const char *key; /* NULL: the end */
    struct json_value value;
    int range;
    const char *says;       /* its description in the schema, with its unit, and what null means */
    struct json_value when; /* else null */
    const char *each;       /* of a list: description of an item */
    const char *more;       /* members more of its schema, as JSON */
};

enum json_layout { ON_LINES, ON_A_LINE };

struct json_table {
    enum json_layout layout;
    const struct json_row *rows;
    const char *name; /* in the schema's $defs, where more than one row has the table */
    const char *says; /* there: its description; NULL: none */
};

#define ROWS (const struct json_row[])

#define JSON_MEMBER(s, m) (((struct s *)0)->m)
#define JSON_KIND(s, m)                                                                                     \
    _Generic(&JSON_MEMBER(s, m), int *: JSON_INT, int64_t *: JSON_INT64, double *: JSON_DOUBLE,             \
             bool *: JSON_BOOL, const char **: JSON_STRING)
#define JSON_ITEMS(s, m, t) .size = sizeof *JSON_MEMBER(s, m), .table = &t
#define JSON_WORDS(w) .words = w, .nwords = sizeof w / sizeof *w

#define AT(s, m) {JSON_KIND(s, m), offsetof(struct s, m)}
#define THROUGH(s, p, t, m) {JSON_KIND(t, m), offsetof(struct s, p), .pointed = true, .inner = offsetof(struct t, m)}
#define ITSELF(k) {k} /* the item of a list of plain numbers */
#define NUMBERED(s, m) {_Generic(&JSON_MEMBER(s, m), int *: JSON_NUMBERED), offsetof(struct s, m)}
#define BAND(s, m) {_Generic(&JSON_MEMBER(s, m), int *: JSON_BAND), offsetof(struct s, m)}
#define YARN(s, m)                                                                                          \
    {_Generic(&JSON_MEMBER(s, m), int *: JSON_YARN, uint8_t *: JSON_YARN_BYTE), offsetof(struct s, m)}
#define WORD(s, m, w) /* m: an enum or a bool */                                                            \
    {JSON_WORD, offsetof(struct s, m), .size = sizeof JSON_MEMBER(s, m), JSON_WORDS(w)}
#define ONE_OF(s, m, w) {JSON_KIND(s, m), offsetof(struct s, m), JSON_WORDS(w)}

#define OBJECT(s, m, t) {JSON_OBJECT, offsetof(struct s, m), .table = &t}
#define POINTER(s, m, t) {JSON_OBJECT, offsetof(struct s, m), .pointed = true, .table = &t}
#define SAME(t) {JSON_OBJECT, .table = &t} /* members of this very object, set apart */

#define LIST(s, m, n, t)                                                                                    \
    {JSON_LIST, offsetof(struct s, m), .pointed = true, JSON_ITEMS(s, m, t), .count_offset = offsetof(struct s, n)}
#define LIST_ONLY(s, m, n, t, f)                                                                            \
    {JSON_LIST, offsetof(struct s, m), .pointed = true, JSON_ITEMS(s, m, t), .count_offset = offsetof(struct s, n), \
     .only = f}
#define LIST_HERE(s, m, n, t)                                                                               \
    {JSON_LIST, offsetof(struct s, m), JSON_ITEMS(s, m, t), .count_offset = offsetof(struct s, n)}
#define LIST_BY(s, m, f, t) {JSON_LIST, offsetof(struct s, m), .pointed = true, JSON_ITEMS(s, m, t), .count = f}
#define NUMBERS(s, m, n)                                                                                    \
    {JSON_NUMBERS, offsetof(struct s, m), .pointed = true, .count_offset = offsetof(struct s, n), .item = JSON_NUMBERED}
#define NUMBERS_HERE(s, m, n)                                                                               \
    {JSON_NUMBERS, offsetof(struct s, m), .count_offset = offsetof(struct s, n), .item = JSON_NUMBERED}
#define BANDS(s, m)                                                                                         \
    {_Generic(&JSON_MEMBER(s, m), uint64_t *: JSON_BANDS), offsetof(struct s, m), .item = JSON_STRING}

/* Written by a function: a value of that kind, one of those words, or a list of such values. */
#define BY(k, f) {k, .write = f}
#define WORD_BY(f, w) {JSON_WORD, .write = f, JSON_WORDS(w)}
#define VALUES(i, f) {JSON_LIST, .write = f, .item = i}

/* `when`: a member that is true, above 0 or a pointer to something; a function. */
#define IF(s, m)                                                                                            \
    {_Generic(&JSON_MEMBER(s, m), int *: JSON_INT, int64_t *: JSON_INT64, bool *: JSON_BOOL, default: JSON_OBJECT), \
     offsetof(struct s, m)}
#define WHEN(f) {JSON_BOOL, .test = f}

/* The members of an object, or the object itself as a member or, key NULL, as an item. */
void json_write_rows(struct json *json, const struct json_table *table, const struct json_at *at);
void json_write_table(struct json *json, const char *key, const struct json_table *table, const struct json_at *at);

/* The schema of a document that is one such object. */
void json_write_schema(struct text *out, const struct json_table *table, const char *title, const char *says);

#endif
