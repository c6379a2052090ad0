/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What the scale said on the way.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "project_reader.h"

static const char number_range[] = "1 to 100000";

/* --- cream 94.6 g, slate 42.8 g --------------------------------------------------------- */

/* The name ends where the first number starts. */
static bool read_one(const struct reader *reader, struct slice slice, struct yarn_grams *out)
{
    struct slice name = slice, grams = slice;

    out->at = slice_place(&slice);
    while (grams.from < grams.to && !(grams.entry->value[grams.from] >= '0' &&
                                      grams.entry->value[grams.from] <= '9') &&
           grams.entry->value[grams.from] != '-')
        grams.from++;
    name = slice_part(name, name.from, grams.from);
    if (slice_length(&name) == 0 || slice_length(&grams) == 0)
        return slice_form_fault(reader, slice_length(&slice) > 0 ? &slice : &grams);
    out->yarn = slice_yarn(reader, &name);
    return slice_grams(reader, &grams, &out->g, &out->unit_g);
}

/* What is wrong is told, and stays in the list: the yarns it names are looked up all the same. */
static void read_list(const struct reader *reader, struct slice slice, struct given_yarn_grams *out)
{
    size_t comma;
    int room = 1;

    for (size_t i = slice.from; i < slice.to; i++)
        room += slice.entry->value[i] == ',';
    out->list = arena_alloc(reader->work->arena, (size_t)room, sizeof *out->list);
    do {
        comma = slice_find_comma(&slice);
        read_one(reader, slice_part(slice, slice.from, comma), &out->list[out->count++]);
        slice = slice_part(slice, comma < slice.to ? comma + 1 : slice.to, slice.to);
    } while (slice_length(&slice) > 0);
}

bool form_yarn_grams(const struct reader *reader, struct slice slice, void *value)
{
    read_list(reader, slice, value);
    return true;
}

/* --- after step 5, 2nd time, of piece 2 ------------------------------------------------- */

static bool take_number(const struct reader *reader, struct slice *slice, struct given_whole *out)
{
    out->at = slice_place(slice);
    return take_whole(reader, slice, number_range, &out->value);
}

/* "2nd time" or "time 2", if there is one. */
static bool read_time(const struct reader *reader, struct slice *slice, struct given_whole *time)
{
    static const char *const time_words[] = {"time", NULL};
    static const char *const ordinals[] = {"st", "nd", "rd", "th", NULL};

    try_sign(slice, ',');
    if (try_word(slice, time_words))
        return take_number(reader, slice, time);
    if (slice_length(slice) == 0 || *slice_text(slice) < '0' || *slice_text(slice) > '9')
        return true;
    if (!take_number(reader, slice, time))
        return false;
    try_word(slice, ordinals);
    return take_word(reader, slice, time_words);
}

/* "of piece 2", if it is there. */
static bool read_piece(const struct reader *reader, struct slice *slice, struct given_whole *piece)
{
    static const char *const of_words[] = {"of", "in", NULL};
    static const char *const piece_words[] = {"piece", NULL};

    try_sign(slice, ',');
    if (slice_length(slice) == 0)
        return true;
    try_word(slice, of_words);
    return take_word(reader, slice, piece_words) && take_number(reader, slice, piece);
}

static bool read_place(const struct reader *reader, struct slice slice, struct given_weighing *out)
{
    static const char *const to[] = {"to", NULL}, *const begin[] = {"begin", NULL};
    static const char *const with[] = {"with", NULL}, *const after[] = {"after", NULL};
    static const char *const step[] = {"step", NULL}, *const sewing[] = {"sewing", NULL};
    static const char *const piece[] = {"piece", NULL};

    if (try_word(&slice, to)) {
        out->place = WEIGHED_BEGIN;
        return take_word(reader, &slice, begin) && take_word(reader, &slice, with) &&
               take_end(reader, &slice);
    }
    try_word(&slice, after);
    if (try_word(&slice, piece)) {
        out->place = WEIGHED_PIECE;
        return take_number(reader, &slice, &out->piece) && take_end(reader, &slice);
    }
    if (try_word(&slice, sewing)) {
        out->place = WEIGHED_SEWING;
        return read_piece(reader, &slice, &out->piece) && take_end(reader, &slice);
    }
    out->place = WEIGHED_STEP;
    return take_word(reader, &slice, step) && take_number(reader, &slice, &out->step) &&
           read_time(reader, &slice, &out->time) && read_piece(reader, &slice, &out->piece) &&
           take_end(reader, &slice);
}

bool form_weighing(const struct reader *reader, struct slice slice, void *value)
{
    struct given_weighing *out = value;
    size_t colon = slice_find(&slice, ':');

    out->piece.value = 1;
    if (colon == slice.to)
        return slice_fault(reader, &slice, DIAG_VALUE_FORM,
                           arena_printf(reader->work->arena,
                                        "\"%s\": a colon stands between when and what the yarns weighed.",
                                        slice_seen(reader, &slice)),
                           slice_example(reader, &slice));
    read_list(reader, slice_part(slice, colon + 1, slice.to), &out->left);
    read_place(reader, slice_part(slice, slice.from, colon), out);
    return true;
}
