/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Text being built: what renderers write into, and the one place that turns numbers
 * into digits, so that report, JSON and drawings never disagree in the last one.
 */
#ifndef STRANDWISE_TEXT_H
#define STRANDWISE_TEXT_H

#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include "rational.h"

struct arena;

struct text {
    struct arena *arena;
    char *bytes; /* NUL-terminated at length; valid until the next append */
    size_t length;
    size_t capacity;
};

struct text text_create(struct arena *arena);
void text_add(struct text *text, const char *string);
void text_add_bytes(struct text *text, const char *bytes, size_t length);
void text_addf(struct text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));
void text_repeat(struct text *text, char character, int times);
/* Room for that many bytes more: spares the copies where much is about to be added. */
void text_reserve(struct text *text, size_t extra);

/* Append words, breaking lines before column width; following lines start with indent
 * spaces. start_column: where on the line we are already. Ends without a newline. Blanks
 * between words become one; those before a break, also of an earlier append, are dropped. */
void text_wrap(struct text *text, const char *words, int start_column, int indent, int width);

/* Columns a UTF-8 string takes on a screen (one a character; marks of ours are narrow). */
int text_columns(const char *string);

/* Bytes of the UTF-8 character at the head of bytes[0..length), 1 to 4, its number in *code
 * (if not NULL); 0: none begins there. */
size_t text_character(const char *bytes, size_t length, uint32_t *code);

/* --- numbers; each appends to text -------------------------------------------------- */

/* value with at most `decimals` places (0 to 6), trailing zeros dropped: 2.50 -> "2.5",
 * 3 -> "3". A half goes away from zero, judged on 14 digits: 2.675 -> "2.68". Not finite: "?". */
void text_decimal(struct text *text, double value, int decimals);
/* At most 9 significant digits, for JSON; not finite: null. */
void text_json_number(struct text *text, double value);
/* Inches as a knitter reads a ruler: the nearest eighth, "10 1/2", "3/8", "0". */
void text_eighths(struct text *text, double inches);
/* "83 1/2" where the fraction is a half, quarter or three quarters, else decimals: "83.64". */
void text_stitches(struct text *text, struct rational stitches);
/* Ten digits grouped for the eye: 12345 -> "12,345". */
void text_grouped(struct text *text, long value);
/* A JSON string with its quotes; input is UTF-8. */
void text_json_string(struct text *text, const char *string);

/* Digits of a whole number. Notes: the same as text_json_number() to the byte (Checked:
 * test_json), but several times faster: a large chart has millions of them. */
void text_digits(struct text *out, int64_t value);

#endif
