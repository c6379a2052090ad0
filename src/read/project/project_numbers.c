/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "project_reader.h"

/* --- ranges as keys.h writes them ------------------------------------------------------ */

struct range {
    struct rational low, high;
    bool over_low; /* low itself is too small */
    enum unit unit;
    const char *words;
};

/* "LOW to HIGH" or "more than LOW, up to HIGH". */
static bool range_read(const char *words, struct range *range)
{
    static const char more[] = "more than ", up[] = ", up to ", to[] = " to ";
    const char *middle;
    struct quantity low, high;
    size_t fault_at;

    range->words = words;
    range->over_low = strncmp(words, more, sizeof more - 1) == 0;
    if (range->over_low)
        words += sizeof more - 1;
    middle = strstr(words, range->over_low ? up : to);
    if (!middle)
        return false;
    if (quantity_read(words, (size_t)(middle - words), &low, &fault_at) != NUMBER_OK)
        return false;
    middle += range->over_low ? sizeof up - 1 : sizeof to - 1;
    if (quantity_read(middle, strlen(middle), &high, &fault_at) != NUMBER_OK)
        return false;
    range->low = low.value;
    range->high = high.value;
    range->unit = high.unit;
    return true;
}

/* The range for values in this unit; the only one, if there is but one. */
static bool range_find(const struct reader *reader, const char *words, enum unit unit,
                       struct range *range)
{
    static const char or [] = ", or ";
    const char *second = strstr(words, or);
    const char *first =
        second ? arena_strndup(reader->work->arena, words, (size_t)(second - words)) : words;

    if (!range_read(first, range))
        return false;
    if (!second || range->unit == unit)
        return true;
    return range_read(second + sizeof or -1, range);
}

static bool fault_range(const struct reader *reader, const struct slice *slice, bool large,
                        const char *words)
{
    return slice_fault(reader, slice, DIAG_VALUE_RANGE,
                       arena_printf(reader->work->arena, "\"%s\" is too %s: \"%s\" must be %s.",
                                    slice_seen(reader, slice), large ? "large" : "small", slice->key->key,
                                    reader_units(reader, words, true)),
                       slice_example(reader, slice));
}

bool slice_in_range(const struct reader *reader, const struct slice *slice, const char *words,
                    struct rational value, enum unit unit)
{
    struct range range;
    bool large;

    if (!range_find(reader, words, unit, &range)) /* keys.h is wrong: never drop her value unsaid */
        return fault_range(reader, slice, true, words);
    large = !rational_is_value(value) || rational_compare(value, range.high) > 0;
    if (!large && rational_compare(value, range.low) >= (range.over_low ? 1 : 0))
        return true;
    return fault_range(reader, slice, large, range.words);
}

/* --- faults of number_read() and its like ------------------------------------------- */

static bool is_infinite(const char *text)
{
    static const char *const words[] = {"inf", "nan",
                                        "\xE2\x88\x9E"}; /* the last: an infinity sign */
    char head[4] = "";

    text += *text == '-' || *text == '+';
    for (int i = 0; i < 3 && text[i]; i++)
        head[i] = (char)(text[i] >= 'A' && text[i] <= 'Z' ? text[i] - 'A' + 'a' : text[i]);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (strcmp(head, words[i]) == 0)
            return true;
    return false;
}

/* Too long before the point: too large; else too finely divided. */
static bool is_huge(const char *text, size_t length)
{
    enum { DIGITS_BEFORE_POINT = 7 };
    int digits = 0;

    for (size_t i = 0; i < length && text[i] != '.' && text[i] != ','; i++)
        digits = text[i] >= '0' && text[i] <= '9' ? digits + 1
                 : digits > DIGITS_BEFORE_POINT   ? digits
                                                  : 0;
    return digits > DIGITS_BEFORE_POINT;
}

static bool fault_unknown_unit(const struct reader *reader, const struct slice *slice)
{
    return slice_fault(reader, slice, DIAG_VALUE_UNIT,
                       arena_printf(reader->work->arena, "\"%s\" is no unit known here.",
                                    slice_seen(reader, slice)),
                       slice_example(reader, slice));
}

/* "31,32": the member of the list around a doubtful comma. */
static bool fault_two_ways(const struct reader *reader, const struct slice *slice, size_t comma)
{
    const char *value = slice->entry->value;
    struct slice member = {slice->entry, slice->key, comma, comma};

    while (member.from > slice->from && value[member.from - 1] != ' ')
        member.from--;
    while (member.to < slice->to && value[member.to] != ' ')
        member.to++;
    return slice_fault(reader, &member, DIAG_VALUE_LIST,
                       arena_printf(reader->work->arena,
                                    "\"%s\" can be one number with a decimal comma, or two.",
                                    slice_seen(reader, &member)),
                       "For two put a space behind the comma (31, 32); for one write a point (31.32).");
}

bool slice_number_fault(const struct reader *reader, const struct slice *slice, int status,
                        size_t fault_at)
{
    struct arena *arena = reader->work->arena;
    const char *seen = slice_seen(reader, slice), *what;
    size_t at = slice->from + fault_at < slice->to ? slice->from + fault_at : slice->from;
    struct slice rest = slice_part(*slice, at, slice->to);
    const char *text = slice_text(&rest);

    if ((status == NUMBER_MISSING && is_infinite(text)) ||
        (status == NUMBER_TOO_LONG && is_huge(text, slice_length(&rest)))) {
        const char *range = slice->key->range;

        return fault_range(reader, slice, text[0] != '-',
                           *range ? range : "a number that can be knitted");
    }
    if (status == NUMBER_UNIT)
        return fault_unknown_unit(reader, &rest);
    if (status == NUMBER_AMBIGUOUS)
        return fault_two_ways(reader, slice, at);
    what = status == NUMBER_MISSING    ? arena_printf(arena, "There is no number in \"%s\".", seen)
           : status == NUMBER_TOO_LONG ? arena_printf(arena, "\"%s\" has too many digits.", seen)
           : status == NUMBER_FRACTION
               ? arena_printf(arena, "\"%s\" is no fraction that can be read.", seen)
               : arena_printf(arena, "\"%s\" is more than the number asked for.", seen);
    return slice_fault(reader, slice, DIAG_VALUE_NUMBER, what, slice_example(reader, slice));
}

static const char *kind_of_unit(enum unit unit)
{
    switch (unit) {
    case UNIT_INCH:
    case UNIT_CM:
    case UNIT_MM:
    case UNIT_METRE:
    case UNIT_YARD:
        return "a length";
    case UNIT_GRAM:
    case UNIT_OUNCE:
        return "a weight";
    case UNIT_PERCENT:
        return "per cent";
    case UNIT_STITCH:
        return "a number of stitches";
    case UNIT_ROW:
        return "a number of rows";
    case UNIT_BALL:
        return "a number of balls";
    case UNIT_NONE:
    case UNIT_COUNT:
        break;
    }
    return "a number without a unit";
}

bool slice_unit_fault(const struct reader *reader, const struct slice *slice,
                      struct quantity quantity)
{
    bool bare_share = quantity.unit == UNIT_NONE && strcmp(slice->key->words, "per cent") == 0;
    const char *todo = bare_share ? arena_printf(reader->work->arena, "Write %s = %s %%.",
                                                 slice->key->key, slice_seen(reader, slice))
                                  : slice_example(reader, slice);

    return slice_fault(reader, slice, DIAG_VALUE_UNIT,
                       arena_printf(reader->work->arena, "\"%s\" is %s; \"%s\" asks for %s.",
                                    slice_seen(reader, slice), kind_of_unit(quantity.unit),
                                    slice->key->key, slice->key->words),
                       todo);
}

/* --- numbers ------------------------------------------------------------------------ */

bool slice_quantity(const struct reader *reader, const struct slice *slice,
                    struct quantity *quantity)
{
    size_t fault_at = 0;
    int status = quantity_read(slice_text(slice), slice_length(slice), quantity, &fault_at);

    return status == NUMBER_OK || slice_number_fault(reader, slice, status, fault_at);
}

bool slice_inches(const struct reader *reader, const struct slice *slice, const char *range,
                  struct rational *inches)
{
    struct quantity quantity;

    if (!slice_quantity(reader, slice, &quantity))
        return false;
    *inches = quantity_inches(quantity, (enum unit)reader->project->units.value);
    if (!rational_is_value(*inches))
        return slice_unit_fault(reader, slice, quantity);
    return slice_in_range(reader, slice, range, *inches, UNIT_INCH);
}

bool slice_whole(const struct reader *reader, const struct slice *slice, enum unit unit, int *value)
{
    struct quantity quantity;

    if (!slice_quantity(reader, slice, &quantity))
        return false;
    if (quantity.unit != UNIT_NONE && quantity.unit != unit)
        return slice_unit_fault(reader, slice, quantity);
    if (!slice_in_range(reader, slice, slice->key->range, quantity.value, UNIT_NONE))
        return false;
    if (quantity.value.den != 1)
        return slice_fault(
            reader, slice, DIAG_VALUE_NUMBER,
            arena_printf(reader->work->arena, "\"%s\" must be a whole number.", slice->key->key),
            slice_example(reader, slice));
    *value = (int)quantity.value.num;
    return true;
}

bool slice_ratio(const struct reader *reader, const struct slice *slice, struct rational *ratio)
{
    struct quantity quantity;

    if (!slice_quantity(reader, slice, &quantity))
        return false;
    if (quantity.unit != UNIT_PERCENT)
        return slice_unit_fault(reader, slice, quantity);
    if (!slice_in_range(reader, slice, slice->key->range, quantity.value, UNIT_PERCENT))
        return false;
    *ratio = rational_div(quantity.value, rational_whole(100));
    return true;
}
