/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * How a band is made to fit: a measure as a share, a way round that she picked, the stitch it begins
 * with.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "project_reader.h"

/* The piece has the other measure: around in the round, width flat. */
static void refuse_key(struct reader *reader, const struct slice *slice, bool around)
{
    struct arena *arena = reader->work->arena;
    const char *seen = slice_seen(reader, slice);

    slice_fault(reader, slice, DIAG_SHARE_OF_NOTHING,
                arena_printf(arena, "\"%s\" is a share of %s, and the measure in [measure] is %s.", seen,
                             around ? "a width" : "the way around", around ? "around" : "a width"),
                arena_printf(arena, "Write %s = %s.", around ? "around" : "width", seen));
}

/* 75 %, or 40 in */
struct given_length reader_measure(struct reader *reader, const char *key,
                                   const struct given_length *whole, struct given_ratio *share)
{
    struct slice slice;
    struct given_length out = {.in = rational_none()};
    struct quantity quantity;
    struct rational ratio;
    size_t fault_at;

    if (!reader_slice(reader, key, &slice, &out.at) ||
        quantity_read(slice_text(&slice), slice_length(&slice), &quantity, &fault_at) != NUMBER_OK ||
        quantity.unit != UNIT_PERCENT)
        return reader_length(reader, key);
    if (!slice_ratio(reader, &slice, &ratio))
        return out;
    if (!rational_is_value(whole->in) &&
        rational_is_value((strcmp(key, "width") == 0 ? reader->project->around : reader->project->width).in)) {
        refuse_key(reader, &slice, strcmp(key, "width") == 0);
        return out;
    }
    if (!rational_is_value(whole->in)) {
        slice_fault(reader, &slice, DIAG_SHARE_OF_NOTHING,
                    arena_printf(reader->work->arena,
                                 "\"%s\" is a share of the measure in [measure], and none is there.",
                                 slice_seen(reader, &slice)),
                    arena_printf(reader->work->arena,
                                 "Write the whole of it under [measure], like this: %s = %s. Or "
                                 "give this part a length of its own.",
                                 key, reader_units(reader, "40 in", false)));
        return out;
    }
    out.in = rational_mul(whole->in, ratio);
    *share = (struct given_ratio){.ratio = rational_is_value(out.in) ? ratio : rational_none(), .at = out.at};
    return out;
}

static const char *const remedy_words[] = {"another count", "shape",        "plain columns",
                                           "trim",          "pad",          "part repeats",
                                           "plain sides",   "another gauge", "redraw"};
static const char *const repeat_words[] = {"repeats", "repeat", NULL};
enum { REMEDY_WORDS = sizeof remedy_words / sizeof remedy_words[0] };

struct given_remedy reader_remedy(struct reader *reader, const char *key)
{
    struct slice slice, word, count;
    struct given_remedy out = {0};
    size_t comma;
    int found;

    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    comma = slice_find(&slice, ',');
    word = slice_part(slice, slice.from, comma);
    found = slice_choice(reader, &word, remedy_words, REMEDY_WORDS);
    if (found < 0) {
        slice_choice_fault(reader, &word, remedy_words, REMEDY_WORDS);
        return out;
    }
    count = slice_part(slice, comma < slice.to ? comma + 1 : slice.to, slice.to);
    if (comma == slice.to || (form_whole(reader, &count, count.key->range, &out.repeats) &&
                              form_word(reader, &count, repeat_words) && form_end(reader, &count)))
        out.word = (enum remedy_word)(REMEDY_NONE + 1 + found);
    return out;
}

struct given_whole reader_stitch(struct reader *reader, const char *key)
{
    struct slice slice;
    struct given_whole out = {.value = 1};

    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    form_try_word(&slice, form_stitch_words);
    if (!form_whole(reader, &slice, slice.key->range, &out.value) || !form_end(reader, &slice))
        out.value = 1;
    return out;
}
