/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * A swatch pulled as wide as it goes: 4 in to 5.3 in, 1 of 2.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "project_reader.h"

enum { PULLED_TIMES_MAX = 3 }; /* no knitting goes farther */

static const char *const of_words[] = {"of", NULL};
static const char stitches_range[] = "1 to 1000";

static bool read_lengths(const struct reader *reader, struct slice slice, struct rational *ratio)
{
    size_t to = slice_find_word(&slice, "to");
    struct slice before = slice_part(slice, slice.from, to), after;
    struct rational relaxed, pulled;

    if (to == slice.to || slice_length(&before) == 0) {
        form_fault(reader, &slice);
        return false;
    }
    after = slice_part(slice, to + strlen("to"), slice.to);
    if (!slice_inches(reader, &before, slice.key->range, &relaxed) ||
        !slice_inches(reader, &after, slice.key->range, &pulled))
        return false;
    *ratio = rational_div(pulled, relaxed);
    if (rational_is_value(*ratio) && rational_compare(pulled, relaxed) > 0 &&
        rational_compare(*ratio, rational_whole(PULLED_TIMES_MAX)) <= 0)
        return true;
    slice_fault(reader, &slice, DIAG_VALUE_RANGE,
                rational_compare(pulled, relaxed) > 0
                    ? "No knitting pulls to more than three times its width."
                    : "Pulled, the swatch would be no wider than relaxed.",
                arena_printf(reader->work->arena,
                             "Write the relaxed length first and the pulled one behind it: pulls = %s.",
                             reader_units(reader, slice.key->example, false)));
    return false;
}

static bool read_share(const struct reader *reader, struct slice slice, struct given_pull *out)
{
    if (!form_whole(reader, &slice, stitches_range, &out->own) ||
        !form_word(reader, &slice, of_words) ||
        !form_whole(reader, &slice, stitches_range, &out->all) || !form_end(reader, &slice))
        return false;
    if (out->own < out->all && out->own > out->all - out->own) {
        slice_fault(reader, &slice, DIAG_VALUE_RANGE,
                    arena_printf(reader->work->arena,
                                 "%d of %d stitches are more than half: that is not the scarcer yarn.",
                                 out->own, out->all),
                    arena_printf(reader->work->arena,
                                 "Write the stitches of the other yarn in that row: %d of %d.",
                                 out->all - out->own, out->all));
        return false;
    }
    if (out->own < out->all)
        return true;
    slice_fault(reader, &slice, DIAG_VALUE_RANGE,
                arena_printf(reader->work->arena, "%d of %d stitches is the whole row: nothing floats.",
                             out->own, out->all),
                "Write the stitches of the scarcer yarn in a row of the pulled swatch, of all: 2 of 12.");
    return false;
}

struct given_pull reader_pulls(struct reader *reader, const char *key, bool stranded)
{
    struct given_pull out = {.ratio = rational_none(), .own = 1, .all = 2};
    struct slice slice, share;
    size_t comma;

    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    comma = slice_find_comma(&slice);
    share = slice_part(slice, comma < slice.to ? comma + 1 : slice.to, slice.to);
    if (!read_lengths(reader, slice_part(slice, slice.from, comma), &out.ratio)) {
        out.ratio = rational_none();
        return out;
    }
    if (slice_length(&share) == 0 || (stranded && read_share(reader, share, &out)))
        return out;
    if (!stranded)
        form_fault(reader, &share);
    out.ratio = rational_none();
    return out;
}
