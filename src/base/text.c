/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "text.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "arena.h"

void text_reserve(struct text *text, size_t extra)
{
    size_t needed = text->length + extra + 1;
    size_t capacity = text->capacity;

    if (needed <= capacity)
        return;
    capacity = needed > 2 * capacity ? needed : 2 * capacity;
    text->bytes = arena_grow(text->arena, text->bytes, text->length, capacity, 1);
    text->capacity = capacity;
}

struct text text_create(struct arena *arena)
{
    enum { FIRST_BYTES = 240 };
    struct text text = {.arena = arena, .capacity = FIRST_BYTES};

    text.bytes = arena_alloc(arena, FIRST_BYTES, 1);
    return text;
}

void text_add(struct text *text, const char *string)
{
    text_add_bytes(text, string, strlen(string));
}

void text_add_bytes(struct text *text, const char *bytes, size_t length)
{
    text_reserve(text, length);
    if (length)
        memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    text->bytes[text->length] = '\0';
}

void text_addf(struct text *text, const char *format, ...)
{
    va_list arguments, again;
    int length;

    assert(format);
    va_start(arguments, format);
    va_copy(again, arguments);
    length = vsnprintf(NULL, 0, format, again);
    va_end(again);
    if (length > 0) {
        text_reserve(text, (size_t)length);
        vsnprintf(text->bytes + text->length, (size_t)length + 1, format, arguments);
        text->length += (size_t)length;
    }
    va_end(arguments);
}

void text_repeat(struct text *text, char character, int times)
{
    if (times <= 0)
        return;
    text_reserve(text, (size_t)times);
    memset(text->bytes + text->length, character, (size_t)times);
    text->length += (size_t)times;
    text->bytes[text->length] = '\0';
}

/* --- characters --------------------------------------------------------------------- */

size_t text_character(const char *bytes, size_t length, uint32_t *code)
{
    static const uint32_t smallest[5] = {0, 0, 0x80, 0x800, 0x10000};
    unsigned char head;
    size_t size;
    uint32_t value;

    if (length == 0)
        return 0;
    head = (unsigned char)bytes[0];
    size = head < 0x80   ? 1
           : head < 0xC2 ? 0
           : head < 0xE0 ? 2
           : head < 0xF0 ? 3
           : head < 0xF5 ? 4
                         : 0;
    if (size == 0 || size > length)
        return 0;
    value = size == 1 ? head : head & (0x7Fu >> size);
    for (size_t i = 1; i < size; i++) {
        unsigned char next = (unsigned char)bytes[i];

        if ((next & 0xC0) != 0x80)
            return 0;
        value = value << 6 | (next & 0x3Fu);
    }
    if (value < smallest[size] || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF))
        return 0;
    if (code)
        *code = value;
    return size;
}

static int columns_of_bytes(const char *bytes, size_t length)
{
    int columns = 0;

    for (size_t i = 0; i < length; i++)
        columns += ((unsigned char)bytes[i] & 0xC0) != 0x80;
    return columns;
}

int text_columns(const char *string)
{
    return columns_of_bytes(string, strlen(string));
}

static void break_line(struct text *text, int indent)
{
    while (text->length > 0 && text->bytes[text->length - 1] == ' ')
        text->length--;
    text_add(text, "\n");
    text_repeat(text, ' ', indent);
}

void text_wrap(struct text *text, const char *words, int start_column, int indent, int width)
{
    static const char blanks[] = " \t\n";
    int column = start_column;
    int between = 0;                     /* the blank before the word to come */
    bool empty = start_column <= indent; /* a break would only leave an empty line */

    for (words += strspn(words, blanks); *words; words += strspn(words, blanks)) {
        size_t length = strcspn(words, blanks);
        int columns = columns_of_bytes(words, length);

        if (column + between + columns > width && !empty) {
            break_line(text, indent);
            column = indent;
        } else {
            text_repeat(text, ' ', between);
            column += between;
        }
        text_add_bytes(text, words, length);
        column += columns;
        words += length;
        between = 1;
        empty = false;
    }
}

/* --- numbers ------------------------------------------------------------------------ */

enum { CLEAN_DIGITS = 14, DECIMALS_MAX = 6, WHOLE_DIGITS_MAX = 12 };

/* exponent 0 to 18 */
static int64_t power_of_ten(int exponent)
{
    int64_t power = 1;

    while (exponent-- > 0)
        power *= 10;
    return power;
}

/* value * 10^decimals to the nearest whole, a half away from zero, decided on the first
 * CLEAN_DIGITS digits: 2.675 is the 2.675 that was written, not the 2.67499999999999982 that
 * a binary fraction makes of it. false: too large for that, and for its decimals to matter. */
static bool scale_to_whole(double value, int decimals, int64_t *whole)
{
    char digits[32];
    int64_t mantissa;
    int exponent, shift;

    assert(decimals >= 0 && decimals <= DECIMALS_MAX);
    snprintf(digits, sizeof digits, "%.*e", CLEAN_DIGITS - 1, fabs(value));
    exponent = (int)strtol(strchr(digits, 'e') + 1, NULL, 10);
    digits[1] = digits[0]; /* over the point, so that the digits stand in one row */
    mantissa = strtoll(digits + 1, NULL, 10);
    if (exponent >= WHOLE_DIGITS_MAX)
        return false;
    shift = exponent - (CLEAN_DIGITS - 1) + decimals;
    if (shift >= 0)
        *whole = mantissa * power_of_ten(shift);
    else if (-shift > CLEAN_DIGITS)
        *whole = 0;
    else
        *whole = (mantissa + power_of_ten(-shift) / 2) / power_of_ten(-shift);
    if (value < 0)
        *whole = -*whole;
    return true;
}

/* whole / 10^decimals, without trailing zeros. */
static void add_scaled(struct text *text, int64_t whole, int decimals)
{
    int64_t size = whole < 0 ? -whole : whole;
    int64_t rest = size % power_of_ten(decimals);

    text_addf(text, "%s%" PRId64, whole < 0 ? "-" : "", size / power_of_ten(decimals));
    if (rest == 0)
        return;
    while (rest % 10 == 0) {
        rest /= 10;
        decimals--;
    }
    text_addf(text, ".%0*" PRId64, decimals, rest);
}

void text_decimal(struct text *text, double value, int decimals)
{
    int64_t whole;

    if (!isfinite(value))
        text_add(text, "?");
    else if (scale_to_whole(value, decimals, &whole))
        add_scaled(text, whole, decimals);
    else
        text_addf(text, "%.0f", value);
}

void text_json_number(struct text *text, double value)
{
    char shown[40];
    double rounded;

    if (!isfinite(value)) {
        text_add(text, "null");
        return;
    }
    snprintf(shown, sizeof shown, "%.9g", value);
    rounded = strtod(shown, NULL);
    if (fabs(rounded) < 1e15 && !(fabs(rounded - round(rounded)) > 0)) {
        text_addf(text, "%" PRId64, (int64_t)rounded);
        return;
    }
    for (int digits = 1; digits <= 9; digits++) {
        snprintf(shown, sizeof shown, "%.*g", digits, value);
        if (!(fabs(strtod(shown, NULL) - rounded) > 0))
            break;
    }
    text_add(text, shown);
}

/* parts / per, per a whole number of parts: "-10 1/2". */
static void add_mixed(struct text *text, int64_t parts, int64_t per)
{
    int64_t size = parts < 0 ? -parts : parts;
    struct rational rest = rational_make(size % per, per);

    if (parts < 0)
        text_add(text, "-");
    if (size / per > 0 || rest.num == 0)
        text_addf(text, "%" PRId64, size / per);
    if (size / per > 0 && rest.num > 0)
        text_add(text, " ");
    if (rest.num > 0)
        text_addf(text, "%" PRId64 "/%" PRId64, rest.num, rest.den);
}

void text_eighths(struct text *text, double inches)
{
    /* A sixteenth that lost its last bit on the way is still a half eighth. */
    const double hair = 1e-9;

    if (!(fabs(inches) < 1e12))
        text_add(text, "?");
    else
        add_mixed(text, (int64_t)floor(inches * 8 + 0.5 + hair), 8);
}

void text_stitches(struct text *text, struct rational stitches)
{
    struct rational hundredfold;

    if (!rational_is_value(stitches)) {
        text_add(text, "?");
        return;
    }
    if (stitches.den == 1 || stitches.den == 2 || stitches.den == 4) {
        add_mixed(text, stitches.num, stitches.den);
        return;
    }
    hundredfold = rational_mul(stitches, rational_whole(100));
    if (rational_is_value(hundredfold))
        add_scaled(text, rational_nearest(hundredfold), 2);
    else
        text_decimal(text, rational_double(stitches), 2);
}

void text_grouped(struct text *text, long value)
{
    char digits[32];
    size_t length;

    snprintf(digits, sizeof digits, "%ld", value);
    length = strlen(digits);
    for (size_t i = 0; i < length; i++) {
        text_add_bytes(text, digits + i, 1);
        if (digits[i] != '-' && i + 1 < length && (length - i - 1) % 3 == 0)
            text_add(text, ",");
    }
}

void text_json_string(struct text *text, const char *string)
{
    size_t length = strlen(string);

    text_add(text, "\"");
    for (size_t i = 0; i < length;) {
        size_t size = text_character(string + i, length - i, NULL);
        unsigned char byte = (unsigned char)string[i];

        if (size == 0)
            text_add(text, "\\ufffd");
        else if (byte == '"' || byte == '\\')
            text_addf(text, "\\%c", byte);
        else if (byte == '\n')
            text_add(text, "\\n");
        else if (byte == '\t')
            text_add(text, "\\t");
        else if (byte < 0x20 || byte == 0x7F)
            text_addf(text, "\\u%04x", byte);
        else
            text_add_bytes(text, string + i, size);
        i += size ? size : 1;
    }
    text_add(text, "\"");
}

void text_digits(struct text *out, int64_t value)
{
    char digits[16];
    int at = sizeof digits;
    int64_t rest;

    if (value <= -1000000000 || value >= 1000000000) { /* more than nine digits: rounded */
        text_json_number(out, (double)value);
        return;
    }
    rest = value < 0 ? -value : value;
    do
        digits[--at] = (char)('0' + rest % 10);
    while ((rest /= 10) > 0);
    if (value < 0)
        digits[--at] = '-';
    text_add_bytes(out, digits + at, sizeof digits - (size_t)at);
}
