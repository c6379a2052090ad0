/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Sizes: S 8 in, M 9 in, age 4: 18 in.
 */
#include "base/arena.h"
#include "base/work.h"
#include "project_reader.h"

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* The comma behind which the next size stands: not one between two digits, 8,5 in. */
static size_t size_ends(const struct slice *slice)
{
    const char *value = slice->entry->value;

    for (size_t i = slice->from; i < slice->to; i++)
        if (value[i] == ',' && !(i > slice->from && i + 1 < slice->to && is_digit(value[i - 1]) &&
                                 is_digit(value[i + 1])))
            return i;
    return slice->to;
}

/* Where the name ends: at a colon, else before the first word that begins with a digit. */
static size_t name_ends(const struct slice *slice)
{
    const char *value = slice->entry->value;
    size_t colon = slice_find(slice, ':');

    if (colon < slice->to)
        return colon;
    for (size_t i = slice->from; i < slice->to; i++)
        if (is_digit(value[i]) && (i == slice->from || value[i - 1] == ' ' || value[i - 1] == '\t'))
            return i;
    return slice->to;
}

static bool is_new(const struct reader *reader, const struct slice *slice, const char *name,
                   const struct given_sizes *sizes)
{
    for (int i = 0; i < sizes->count; i++)
        if (reader_same(sizes->name[i], name)) {
            slice_fault(reader, slice, DIAG_VALUE_FORM,
                        arena_printf(reader->work->arena, "Two sizes are called %s.", name),
                        "Give each size a name of its own.");
            return false;
        }
    return true;
}

/* Where a further number stands behind the first, 2 18 in: one that is no fraction. */
static bool another_number(const struct slice *length)
{
    const char *value = length->entry->value;
    bool first = true;

    for (size_t i = length->from; i < length->to; i++) {
        size_t end = i;
        bool fraction = false;

        if (!is_digit(value[i]) || (i > length->from && value[i - 1] != ' ' && value[i - 1] != '\t'))
            continue;
        for (; end < length->to && value[end] != ' ' && value[end] != '\t'; end++)
            fraction = fraction || value[end] == '/';
        if (!first && !fraction)
            return true;
        first = false;
    }
    return false;
}

/* The number may be part of the name: which one, only a colon says. */
static void fault_colon(const struct reader *reader, const struct slice *slice,
                        const struct slice *length)
{
    slice_fault(reader, slice, DIAG_VALUE_FORM,
                arena_printf(reader->work->arena, "\"%s\" holds two numbers, and may be read two ways.",
                             slice_words(reader, length)),
                "A name with a number in it ends in a colon, like this: sizes = age 2: 18 in, age 4: 19 in.");
}

static bool read_size(const struct reader *reader, struct slice slice, struct given_sizes *sizes)
{
    size_t end = name_ends(&slice);
    struct slice name = slice_part(slice, slice.from, end), length;
    const char *words = slice_words(reader, &name);

    if (sizes->count == PROJECT_SIZES_MAX) {
        slice_fault(reader, &slice, DIAG_VALUE_RANGE,
                    arena_printf(reader->work->arena, "There are more than %d sizes.",
                                 (int)PROJECT_SIZES_MAX),
                    "Leave some out.");
        return false;
    }
    if (end < slice.to && slice.entry->value[end] == ':')
        end++;
    length = slice_part(slice, end, slice.to);
    if (another_number(&length)) {
        fault_colon(reader, &slice, &length);
        return false;
    }
    if (slice_length(&name) == 0 || slice_length(&length) == 0) {
        slice_fault(reader, &slice, DIAG_VALUE_FORM,
                    slice_length(&name) == 0 ? "A size needs a name before its measure."
                                             : "A size needs its measure behind its name.",
                    slice_example(reader, &slice));
        return false;
    }
    if (!slice_inches(reader, &length, slice.key->range, &sizes->in[sizes->count]) ||
        !is_new(reader, &name, words, sizes))
        return false;
    sizes->name[sizes->count++] = words;
    return true;
}

struct given_sizes reader_sizes(struct reader *reader, const char *key)
{
    struct given_sizes out = {0};
    struct slice slice;
    bool good = true;

    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    while (slice.from < slice.to) {
        size_t end = size_ends(&slice);

        good = read_size(reader, slice_part(slice, slice.from, end), &out) && good;
        if (out.count == PROJECT_SIZES_MAX && !good)
            break;
        slice.from = end < slice.to ? end + 1 : slice.to;
    }
    if (!good)
        out.count = 0;
    return out;
}
