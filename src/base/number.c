/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "number.h"

#include <string.h>
#include <strings.h>

enum { WHOLE_DIGITS_MAX = 7, DECIMAL_DIGITS_MAX = 6, DENOMINATOR_MAX = 1000 };

/* What is left to read. */
struct cursor {
    const char *text;
    size_t length;
    size_t at;
};

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static char peek(const struct cursor *cursor, size_t ahead)
{
    size_t at = cursor->at + ahead;

    return at < cursor->length ? cursor->text[at] : '\0';
}

/* Step over sign if it stands here. */
static bool take(struct cursor *cursor, const char *sign)
{
    size_t length = strlen(sign);

    if (length > cursor->length - cursor->at ||
        memcmp(cursor->text + cursor->at, sign, length) != 0)
        return false;
    cursor->at += length;
    return true;
}

static bool take_any(struct cursor *cursor, const char *const *signs)
{
    for (; *signs; signs++)
        if (take(cursor, *signs))
            return true;
    return false;
}

/* Blanks, with those that web pages put between 8 and its half: no-break, thin, narrow. */
static void skip_blanks(struct cursor *cursor)
{
    static const char *const blanks[] = {" ",        "\t",           "\n",           "\r",
                                         "\xC2\xA0", "\xE2\x80\x89", "\xE2\x80\xAF", NULL};

    while (take_any(cursor, blanks))
        continue;
}

/* --- one number --------------------------------------------------------------------- */

/* Digits into *value; -1: more than limit of them. Returned otherwise: how many. */
static int take_digits(struct cursor *cursor, int limit, int64_t *value)
{
    int count = 0;

    *value = 0;
    for (; is_digit(peek(cursor, 0)); cursor->at++) {
        if (++count > limit)
            return -1;
        *value = 10 * *value + (peek(cursor, 0) - '0');
    }
    return count;
}

/* One character that is a fraction by itself. */
static bool take_fraction_sign(struct cursor *cursor, struct rational *value)
{
    static const struct {
        const char *sign;
        int num, den;
    } fractions[] = {{"\xC2\xBD", 1, 2},     {"\xC2\xBC", 1, 4},     {"\xC2\xBE", 3, 4},
                     {"\xE2\x85\x9B", 1, 8}, {"\xE2\x85\x9C", 3, 8}, {"\xE2\x85\x9D", 5, 8},
                     {"\xE2\x85\x9E", 7, 8}, {"\xE2\x85\x93", 1, 3}, {"\xE2\x85\x94", 2, 3}};

    for (size_t i = 0; i < sizeof fractions / sizeof fractions[0]; i++)
        if (take(cursor, fractions[i].sign)) {
            *value = rational_make(fractions[i].num, fractions[i].den);
            return true;
        }
    return false;
}

static bool take_slash(struct cursor *cursor)
{
    static const char *const slashes[] = {"/", "\xE2\x81\x84", NULL};

    return take_any(cursor, slashes);
}

static bool at_slash(struct cursor cursor)
{
    return take_slash(&cursor);
}

static bool at_fraction_sign(struct cursor cursor)
{
    struct rational ignored;

    return take_fraction_sign(&cursor, &ignored);
}

/* Behind the slash: the denominator, and nothing that would make it a longer puzzle. */
static int read_denominator(struct cursor *cursor, int64_t num, struct rational *value)
{
    size_t start = cursor->at;
    int64_t den;
    int count = take_digits(cursor, WHOLE_DIGITS_MAX, &den);

    if (count < 1 || den < 2 || den > DENOMINATOR_MAX) {
        cursor->at = start;
        return NUMBER_FRACTION;
    }
    if (at_slash(*cursor) || at_fraction_sign(*cursor) ||
        (peek(cursor, 0) == '.' && is_digit(peek(cursor, 1))))
        return NUMBER_FRACTION;
    *value = rational_make(num, den);
    return NUMBER_OK;
}

/* Behind a whole number: ".5", ",5", or nothing. *decimal: whether there was any. */
static int read_decimals(struct cursor *cursor, int64_t whole, struct rational *value,
                         bool *decimal)
{
    int64_t part, scale = 1;
    int count;

    *value = rational_whole(whole);
    *decimal = (peek(cursor, 0) == '.' || peek(cursor, 0) == ',') && is_digit(peek(cursor, 1));
    if (!*decimal)
        return NUMBER_OK;
    cursor->at++;
    count = take_digits(cursor, DECIMAL_DIGITS_MAX, &part);
    if (count < 0)
        return NUMBER_TOO_LONG;
    while (count-- > 0)
        scale *= 10;
    *value = rational_make(whole * scale + part, scale);
    return NUMBER_OK;
}

/* Behind a whole number, perhaps after blanks: a fraction to be added. Whether it is one is
 * known at its slash only; if not, the cursor stays where it was. */
static int read_mixed(struct cursor *cursor, struct rational *value)
{
    struct cursor ahead = *cursor;
    struct rational part;
    size_t start;
    int64_t num;
    int count, status;

    skip_blanks(&ahead);
    start = ahead.at;
    if (!take_fraction_sign(&ahead, &part)) {
        if (ahead.at == cursor->at)
            return NUMBER_OK;
        count = take_digits(&ahead, WHOLE_DIGITS_MAX, &num);
        if (count < 1 || !take_slash(&ahead))
            return NUMBER_OK;
        status = read_denominator(&ahead, num, &part);
        if (status < 0) {
            *cursor = ahead;
            return status;
        }
    }
    if (rational_compare(part, rational_whole(1)) >= 0) {
        cursor->at = start;
        return NUMBER_FRACTION;
    }
    *cursor = ahead;
    *value = rational_add(*value, part);
    return NUMBER_OK;
}

static int read_unsigned(struct cursor *cursor, struct rational *value)
{
    size_t start = cursor->at;
    bool bare_point = peek(cursor, 0) == '.' && is_digit(peek(cursor, 1));
    bool decimal;
    int64_t whole;
    int count, status;

    if (take_fraction_sign(cursor, value))
        return NUMBER_OK;
    count = take_digits(cursor, WHOLE_DIGITS_MAX, &whole);
    if (count < 0) {
        cursor->at = start;
        return NUMBER_TOO_LONG;
    }
    if (count == 0 && !bare_point)
        return NUMBER_MISSING;
    if (count > 0 && take_slash(cursor))
        return read_denominator(cursor, whole, value);
    status = read_decimals(cursor, whole, value, &decimal);
    if (status < 0) {
        cursor->at = start;
        return status;
    }
    if (!decimal)
        return read_mixed(cursor, value);
    return at_slash(*cursor) || at_fraction_sign(*cursor) ? NUMBER_FRACTION : NUMBER_OK;
}

static int take_number(struct cursor *cursor, struct rational *value)
{
    static const char *const minuses[] = {"-", "\xE2\x88\x92", NULL};
    bool negative;
    int status;

    *value = rational_none();
    skip_blanks(cursor);
    negative = take_any(cursor, minuses);
    if (!negative)
        take(cursor, "+");
    status = read_unsigned(cursor, value);
    if (status < 0)
        *value = rational_none();
    else if (negative)
        *value = rational_sub(rational_whole(0), *value);
    return status;
}

int number_read(const char *text, size_t length, struct rational *value, size_t *used)
{
    struct cursor cursor = {text, length, 0};
    int status = take_number(&cursor, value);

    *used = cursor.at;
    return status;
}

/* --- a number and its unit ---------------------------------------------------------- */

static const struct {
    const char *word;
    enum unit unit;
} unit_words[] = {
    {"in", UNIT_INCH},      {"inch", UNIT_INCH},       {"inches", UNIT_INCH},
    {"cm", UNIT_CM},        {"mm", UNIT_MM},           {"m", UNIT_METRE},
    {"metre", UNIT_METRE},  {"metres", UNIT_METRE},    {"meter", UNIT_METRE},
    {"meters", UNIT_METRE}, {"yd", UNIT_YARD},         {"yds", UNIT_YARD},
    {"yard", UNIT_YARD},    {"yards", UNIT_YARD},      {"g", UNIT_GRAM},
    {"gram", UNIT_GRAM},    {"grams", UNIT_GRAM},      {"gramme", UNIT_GRAM},
    {"grammes", UNIT_GRAM}, {"oz", UNIT_OUNCE},        {"ounce", UNIT_OUNCE},
    {"ounces", UNIT_OUNCE}, {"percent", UNIT_PERCENT}, {"st", UNIT_STITCH},
    {"sts", UNIT_STITCH},   {"stitch", UNIT_STITCH},   {"stitches", UNIT_STITCH},
    {"row", UNIT_ROW},      {"rows", UNIT_ROW},        {"round", UNIT_ROW},
    {"rounds", UNIT_ROW},   {"rnd", UNIT_ROW},         {"rnds", UNIT_ROW},
    {"ball", UNIT_BALL},    {"balls", UNIT_BALL},
};

static size_t word_length(const struct cursor *cursor)
{
    size_t length = 0;

    while (is_letter(peek(cursor, length)))
        length++;
    return length;
}

static bool take_word(struct cursor *cursor, const char *word)
{
    size_t length = word_length(cursor);

    if (length != strlen(word) || strncasecmp(cursor->text + cursor->at, word, length) != 0)
        return false;
    cursor->at += length;
    return true;
}

static int take_unit(struct cursor *cursor, enum unit *unit)
{
    static const char *const inch_signs[] = {"\"", "\xE2\x80\xB3", "\xE2\x80\x9D", NULL};
    struct cursor ahead = *cursor;

    *unit = UNIT_NONE;
    if (take_any(cursor, inch_signs)) {
        *unit = UNIT_INCH;
        return NUMBER_OK;
    }
    if (take(cursor, "%")) {
        *unit = UNIT_PERCENT;
        return NUMBER_OK;
    }
    if (take_word(&ahead, "per")) {
        skip_blanks(&ahead);
        if (take_word(&ahead, "cent")) {
            *cursor = ahead;
            *unit = UNIT_PERCENT;
            return NUMBER_OK;
        }
    }
    for (size_t i = 0; i < sizeof unit_words / sizeof unit_words[0]; i++)
        if (take_word(cursor, unit_words[i].word)) {
            *unit = unit_words[i].unit;
            return NUMBER_OK;
        }
    return is_letter(peek(cursor, 0)) ? NUMBER_UNIT : NUMBER_OK;
}

static int take_quantity(struct cursor *cursor, struct quantity *quantity)
{
    int status = take_number(cursor, &quantity->value);

    if (status < 0)
        return status;
    skip_blanks(cursor);
    if (is_digit(peek(cursor, 0)) || at_fraction_sign(*cursor))
        return NUMBER_FRACTION;
    status = take_unit(cursor, &quantity->unit);
    if (status < 0)
        return status;
    skip_blanks(cursor);
    return cursor->at < cursor->length ? NUMBER_TRAILING : NUMBER_OK;
}

int quantity_read(const char *text, size_t length, struct quantity *quantity, size_t *fault_at)
{
    struct cursor cursor = {text, length, 0};
    int status;

    *quantity = (struct quantity){rational_none(), UNIT_NONE};
    status = take_quantity(&cursor, quantity);
    *fault_at = cursor.at;
    if (status < 0)
        *quantity = (struct quantity){rational_none(), UNIT_NONE};
    return status;
}

/* --- lists -------------------------------------------------------------------------- */

enum comma { COMMA_NONE, COMMA_WIDE, COMMA_AFTER, COMMA_TIGHT };

/* The digits before at belong to a fraction: "1/2,". */
static bool ends_fraction(const char *text, size_t at)
{
    while (at > 0 && is_digit(text[at - 1]))
        at--;
    return (at >= 1 && text[at - 1] == '/') ||
           (at >= 3 && memcmp(text + at - 3, "\xE2\x81\x84", 3) == 0);
}

/* WIDE: followed by a blank or the end. TIGHT: between two digits, so perhaps a decimal
 * comma. AFTER: any other, which cannot be one. */
static enum comma classify_comma(const char *text, size_t length, size_t at)
{
    struct cursor behind = {text, length, at + 1};

    if (text[at] != ',')
        return COMMA_NONE;
    skip_blanks(&behind);
    if (behind.at > at + 1 || behind.at == length)
        return COMMA_WIDE;
    if (at > 0 && is_digit(text[at - 1]) && is_digit(text[at + 1]) && !ends_fraction(text, at))
        return COMMA_TIGHT;
    return COMMA_AFTER;
}

/* Tight commas are decimal only where the writer shows, with a wide one, how she sets off
 * the members of her list. Returned: the place of the doubtful comma, or length. */
static size_t find_doubt(const char *text, size_t length)
{
    size_t tight = length;

    for (size_t at = length; at-- > 0;) {
        enum comma comma = classify_comma(text, length, at);

        if (comma == COMMA_WIDE)
            return length;
        if (comma == COMMA_TIGHT)
            tight = at;
    }
    return tight;
}

static size_t member_end(const char *text, size_t length, size_t start)
{
    size_t at = start;

    for (; at < length; at++) {
        enum comma comma = classify_comma(text, length, at);

        if (comma == COMMA_WIDE || comma == COMMA_AFTER)
            break;
    }
    return at;
}

int quantity_list_read(const char *text, size_t length, struct quantity *list, size_t *offsets,
                       int limit, int *count, size_t *fault_at)
{
    size_t start = 0;

    *count = 0;
    *fault_at = find_doubt(text, length);
    if (*fault_at < length)
        return NUMBER_AMBIGUOUS;
    for (;;) {
        size_t end = member_end(text, length, start);
        struct cursor member = {text, end, start};
        struct quantity quantity = {rational_none(), UNIT_NONE};
        int status;

        skip_blanks(&member);
        start = member.at;
        status = take_quantity(&member, &quantity);
        if (status < 0) {
            *fault_at = member.at;
            return status == NUMBER_TRAILING && text[member.at] == ',' ? NUMBER_AMBIGUOUS : status;
        }
        if (*count < limit) {
            list[*count] = quantity;
            if (offsets)
                offsets[*count] = start;
        }
        ++*count;
        if (end == length)
            return NUMBER_OK;
        start = end + 1;
    }
}

/* --- units -------------------------------------------------------------------------- */

/* What one is: inches of a length, grams of a mass; den 0: neither. */
static const struct {
    bool mass;
    int64_t num, den;
} sizes[UNIT_COUNT] = {
    [UNIT_INCH] = {false, 1, 1},       [UNIT_CM] = {false, 100, 254}, [UNIT_MM] = {false, 10, 254},
    [UNIT_METRE] = {false, 10000, 254}, [UNIT_YARD] = {false, 36, 1},  [UNIT_GRAM] = {true, 1, 1},
    [UNIT_OUNCE] = {true, 28349523125, 1000000000},
};

static struct rational size_of(struct quantity quantity, enum unit unit_default, bool mass)
{
    enum unit unit = quantity.unit == UNIT_NONE ? unit_default : quantity.unit;

    if (sizes[unit].den == 0 || sizes[unit].mass != mass)
        return rational_none();
    return rational_mul(quantity.value, rational_make(sizes[unit].num, sizes[unit].den));
}

struct rational quantity_inches(struct quantity quantity, enum unit unit_default)
{
    return size_of(quantity, unit_default, false);
}

struct rational quantity_grams(struct quantity quantity, enum unit unit_default)
{
    return size_of(quantity, unit_default, true);
}

struct rational quantity_metres(struct quantity quantity, enum unit unit_default)
{
    return rational_mul(size_of(quantity, unit_default, false), rational_make(254, 10000));
}

/* --- did you mean ------------------------------------------------------------------- */

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

static int smallest(int a, int b, int c)
{
    int least = a < b ? a : b;

    return least < c ? least : c;
}

enum { LENGTH_MAX = 100 }; /* nothing longer is a key or a choice */

int text_distance(const char *a, const char *b)
{
    int rows[3][LENGTH_MAX + 1];
    int *before = rows[0], *above = rows[1], *row = rows[2];
    int na = (int)strnlen(a, LENGTH_MAX + 1), nb = (int)strnlen(b, LENGTH_MAX + 1);

    if (na > LENGTH_MAX || nb > LENGTH_MAX)
        return LENGTH_MAX;
    for (int j = 0; j <= nb; j++)
        row[j] = j;
    for (int i = 1; i <= na; i++) {
        int *oldest = before;

        before = above;
        above = row;
        row = oldest;
        row[0] = i;
        for (int j = 1; j <= nb; j++) {
            int change = lower(a[i - 1]) != lower(b[j - 1]);

            row[j] = smallest(above[j] + 1, row[j - 1] + 1, above[j - 1] + change);
            if (i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) &&
                lower(a[i - 2]) == lower(b[j - 1]) && before[j - 2] + 1 < row[j])
                row[j] = before[j - 2] + 1;
        }
    }
    return row[nb];
}

const char *text_nearest(const char *text, const char *const *words, int nwords)
{
    size_t length = strnlen(text, LENGTH_MAX + 1);
    int best = length < 6 ? 1 : (int)(length / 3);
    const char *nearest = NULL;

    for (int i = 0; i < nwords && length <= LENGTH_MAX; i++) {
        int distance = text_distance(text, words[i]);

        if (distance > best || (nearest && distance == best))
            continue;
        best = distance;
        nearest = words[i];
    }
    return nearest;
}
