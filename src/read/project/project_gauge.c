/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What she measured: counts, a row taken out, a swatch weighed, a ball band, yarn in
 * hand, a swatch pulled.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "project_reader.h"

static const char yarn_length_range[] = "more than 0, up to 1000 in";

/* --- counts ------------------------------------------------------------------------- */

/* "32 in 4": the length stands in `over`, once. */
static bool names_a_length(const struct slice *slice)
{
    static const char *const words[] = {"in", "inch", "inches", "cm", "per", "to"};

    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
        if (slice_find_word(slice, words[i]) < slice->to)
            return true;
    return slice_find(slice, '"') < slice->to;
}

static bool take_counts(const struct reader *reader, const struct slice *slice,
                        const struct quantity *list, const size_t *offsets, int n,
                        struct given_counts *out)
{
    enum unit unit = strcmp(slice->key->key, "rows") == 0 ? UNIT_ROW : UNIT_STITCH;

    for (int i = 0; i < n; i++) {
        struct slice one = slice_part(*slice, slice->from + offsets[i],
                                      i + 1 < n ? slice->from + offsets[i + 1] : slice->to);

        while (slice_length(&one) > 0 && one.entry->value[one.to - 1] == ',')
            one = slice_part(one, one.from, one.to - 1);
        if (list[i].unit != UNIT_NONE && list[i].unit != unit) {
            slice_unit_fault(reader, &one, list[i]);
            continue;
        }
        if (!slice_in_range(reader, &one, slice->key->range, list[i].value, UNIT_NONE))
            continue;
        out->value[out->count] = list[i].value;
        out->place[out->count++] = slice_place(&one);
    }
    return out->count == n;
}

bool form_counts(const struct reader *reader, struct slice slice, void *value)
{
    struct given_counts *out = value;
    struct quantity list[PROJECT_COUNTS_MAX];
    size_t offsets[PROJECT_COUNTS_MAX], fault_at = 0;
    int n = 0, status;

    if (names_a_length(&slice))
        return slice_fault(reader, &slice, DIAG_VALUE_FORM,
                           "The length that the counts were taken over stands once, in \"over\".",
                           arena_printf(reader->work->arena,
                                        "Write the counts alone, %s = %s, and over = %s on a line of "
                                        "its own.",
                                        slice.key->key, slice.key->example,
                                        reader_units(reader, "4 in", false)));
    status = quantity_list_read(slice_text(&slice), slice_length(&slice), list, offsets,
                                PROJECT_COUNTS_MAX, &n, &fault_at);
    if (status != NUMBER_OK)
        return slice_number_fault(reader, &slice, status, fault_at);
    if (n > PROJECT_COUNTS_MAX)
        return slice_fault(reader, &slice, DIAG_VALUE_RANGE,
                           arena_printf(reader->work->arena, "There are %d counts here.", n),
                           arena_printf(reader->work->arena, "Write %d at most; five are plenty.",
                                        (int)PROJECT_COUNTS_MAX));
    return take_counts(reader, &slice, list, offsets, n, out);
}

/* --- a row taken out ---------------------------------------------------------------- */

static const char *const took_words[] = {"took", NULL};
static const char *const of_words[] = {"of", "in", NULL};

/* cream 28 took 15 1/8 in */
static bool read_yarn_share(const struct reader *reader, struct slice slice,
                            struct given_unravelled *out, int index)
{
    size_t took = slice_find_word(&slice, "took");
    struct slice name = slice_part(slice, slice.from, took);
    struct slice count = name, length;

    while (name.to > name.from && slice.entry->value[name.to - 1] != ' ' &&
           slice.entry->value[name.to - 1] != '\t')
        name.to--;
    count = slice_part(count, name.to, count.to);
    name = slice_part(name, name.from, name.to);
    if (took == slice.to || slice_length(&name) == 0)
        return slice_form_fault(reader, &slice);
    length = slice_part(slice, took + strlen("took"), slice.to);
    if (!take_whole(reader, &count, slice.key->range, &out->yarn_sts[index]) ||
        !take_end(reader, &count) ||
        !slice_inches(reader, &length, yarn_length_range, &out->length_in[index]))
        return false;
    out->yarn[index] = slice_yarn(reader, &name);
    return true;
}

static bool read_two_yarns(const struct reader *reader, struct slice slice,
                           struct given_unravelled *out)
{
    size_t comma = slice_find_comma(&slice);
    struct slice first = slice_part(slice, slice.from, comma);
    struct slice second = slice_part(slice, comma < slice.to ? comma + 1 : slice.to, slice.to);
    bool fine;

    if (reader->kind == SECTION_SWATCH_PLAIN)
        return slice_fault(reader, &slice, DIAG_VALUE_FORM, "A plain row has one yarn only.",
                           slice_example(reader, &slice));
    fine = read_yarn_share(reader, first, out, 0);
    return read_yarn_share(reader, second, out, 1) && fine;
}

/* took 19 1/4 in, or: of cream took 19 1/4 in */
static bool read_one_yarn(const struct reader *reader, struct slice slice,
                          struct given_unravelled *out)
{
    size_t took = slice_find_word(&slice, "took");

    if (try_word(&slice, of_words)) {
        struct slice name = slice_part(slice, slice.from, took);

        if (took == slice.to || slice_length(&name) == 0)
            return slice_form_fault(reader, &slice);
        out->yarn[0] = slice_yarn(reader, &name);
        slice = slice_part(slice, took, slice.to);
    }
    return take_word(reader, &slice, took_words) &&
           slice_inches(reader, &slice, yarn_length_range, &out->length_in[0]);
}

/* A marked length may not be stranded. */
bool form_row(const struct reader *reader, struct slice slice, void *value)
{
    struct given_unravelled *out = value;

    if (!take_whole(reader, &slice, slice.key->range, &out->row_sts) ||
        !take_word(reader, &slice, stitch_words))
        return false;
    out->stranded = slice.key->form == FORM_UNRAVELLED && try_sign(&slice, ':');
    if (!(out->stranded ? read_two_yarns(reader, slice, out) : read_one_yarn(reader, slice, out)))
        out->row_sts = 0;
    return true; /* a yarn it names is looked up, even so */
}

/* --- weights and balls -------------------------------------------------------------- */

bool slice_grams(const struct reader *reader, const struct slice *slice, struct rational *grams,
                 struct rational *unit_g)
{
    struct quantity quantity, unit = {.value = rational_whole(1)};

    if (!slice_quantity(reader, slice, &quantity))
        return false;
    *grams = quantity_grams(quantity, UNIT_NONE);
    unit.unit = quantity.unit;
    *unit_g = quantity_grams(unit, UNIT_NONE);
    if (!rational_is_value(*grams))
        return slice_unit_fault(reader, slice, quantity);
    return slice_in_range(reader, slice, slice->key->range, *grams, UNIT_GRAM);
}

bool form_grams(const struct reader *reader, struct slice slice, void *value)
{
    struct given_grams *out = value;
    struct rational unit_g;

    return slice_grams(reader, &slice, &out->g, &unit_g);
}

static const char count_range[] = "1 to 100000";

/* 6.6 g: 40 stitches, 44 rows */
bool form_weight(const struct reader *reader, struct slice slice, void *value)
{
    struct given_weight *out = value;
    size_t colon = slice_find(&slice, ':');
    struct slice mass = slice_part(slice, slice.from, colon);

    slice = slice_part(slice, colon < slice.to ? colon + 1 : slice.to, slice.to);
    if (!slice_grams(reader, &mass, &out->mass_g, &out->unit_g) ||
        !take_whole(reader, &slice, count_range, &out->columns) ||
        !take_word(reader, &slice, stitch_words))
        return false;
    try_sign(&slice, ',');
    return take_whole(reader, &slice, count_range, &out->rows) &&
           take_word(reader, &slice, row_words) && take_end(reader, &slice);
}

/* cream 48.3 g to 44.1 g: the name ends where the first number starts. */
static bool read_two_weighings(const struct reader *reader, struct slice slice,
                               struct given_weighed *out)
{
    size_t to = slice_find_word(&slice, "to");
    struct slice before = slice_part(slice, slice.from, to), name, after;

    if (to == slice.to)
        return slice_form_fault(reader, &slice);
    after = slice_part(slice, to + strlen("to"), slice.to);
    name = before;
    while (before.from < before.to && !(before.entry->value[before.from] >= '0' &&
                                        before.entry->value[before.from] <= '9'))
        before.from++;
    name = slice_part(name, name.from, before.from);
    if (slice_length(&name) == 0 || slice_length(&before) == 0 || slice_length(&after) == 0)
        return slice_form_fault(reader, &slice);
    out->yarn = slice_yarn(reader, &name);
    return slice_grams(reader, &before, &out->before_g, &out->before_unit_g) &&
           slice_grams(reader, &after, &out->after_g, &out->after_unit_g);
}

/* 1600 stitches, or: 1600 stitches, 950 in cream */
static bool read_stitches_of_ball(const struct reader *reader, struct slice slice,
                                  struct given_weighed *out)
{
    struct given_yarn again;

    if (!take_whole(reader, &slice, count_range, &out->all_sts) ||
        !take_word(reader, &slice, stitch_words))
        return false;
    out->yarn_sts = out->all_sts;
    if (!try_sign(&slice, ','))
        return take_end(reader, &slice);
    if (!take_whole(reader, &slice, count_range, &out->yarn_sts))
        return false;
    try_word(&slice, stitch_words);
    if (!take_word(reader, &slice, of_words) || slice_length(&slice) == 0) {
        if (slice_length(&slice) == 0)
            slice_form_fault(reader, &slice);
        return false;
    }
    again = slice_yarn(reader, &slice);
    if (again.index == out->yarn.index && out->yarn_sts <= out->all_sts)
        return true;
    return slice_fault(reader, &slice, DIAG_VALUE_FORM,
                       again.index == out->yarn.index
                           ? "More stitches in the yarn than there are in all."
                           : "The ball is of one yarn, the stitches of another.",
                       slice_example(reader, &slice));
}

/* cream 48.3 g to 44.1 g: 1600 stitches, 950 in cream */
bool form_ball_weighed(const struct reader *reader, struct slice slice, void *value)
{
    struct given_weighed *out = value;
    size_t colon = slice_find(&slice, ':');
    struct slice balls = slice_part(slice, slice.from, colon);

    slice = slice_part(slice, colon < slice.to ? colon + 1 : slice.to, slice.to);
    if (!read_two_weighings(reader, balls, out) || !read_stitches_of_ball(reader, slice, out))
        out->all_sts = 0;
    return true; /* its yarn is looked up, even so */
}

/* A ball band says weight and length, in either order. */
static bool take_ball(const struct reader *reader, const struct slice *slice,
                      const struct quantity list[2], struct ball *ball)
{
    for (int i = 0; i < 2; i++) {
        struct rational grams = quantity_grams(list[i], UNIT_NONE);
        struct rational metres = quantity_metres(list[i], UNIT_NONE);

        if (rational_is_value(grams))
            ball->mass_g = grams;
        else if (rational_is_value(metres) && list[i].unit != UNIT_NONE)
            ball->length_m = metres;
    }
    if (!rational_is_value(ball->mass_g) || !rational_is_value(ball->length_m))
        return slice_fault(reader, slice, DIAG_VALUE_UNIT,
                           "A ball is a weight in g or oz and a length in m or yd.",
                           slice_example(reader, slice));
    return slice_in_range(reader, slice, slice->key->range, ball->mass_g, UNIT_GRAM) &&
           slice_in_range(reader, slice, slice->key->range, ball->length_m, UNIT_METRE);
}

bool form_ball(const struct reader *reader, struct slice slice, void *value)
{
    struct quantity list[2];
    size_t fault_at = 0;
    int n = 0;
    int status =
        quantity_list_read(slice_text(&slice), slice_length(&slice), list, NULL, 2, &n, &fault_at);

    if (status != NUMBER_OK && status != NUMBER_TRAILING)
        return slice_number_fault(reader, &slice, status, fault_at);
    if (n != 2)
        return slice_fault(reader, &slice, DIAG_VALUE_FORM,
                           "A ball is two things with a comma between: its weight, and the length of its "
                           "yarn.",
                           slice_example(reader, &slice));
    return take_ball(reader, &slice, list, value);
}

/* Grams become metres by the ball band. */
static bool has_ball(const struct reader *reader, const struct slice *slice)
{
    struct slice ball;
    struct place at;

    if (reader_slice(reader, "ball", &ball, &at))
        return true;
    return slice_fault(reader, slice, DIAG_KEY_MISSING,
                       "Yarn in hand is given by its weight, and the ball band is not known.",
                       "Write weight and length of a full ball as well, ball = 50 g, 210 m; or give what "
                       "you have as a length, have = 150 m.");
}

bool form_have(const struct reader *reader, struct slice slice, void *value)
{
    struct given_have *out = value;
    struct quantity quantity;
    bool by_weight;

    if (!slice_quantity(reader, &slice, &quantity))
        return false;
    out->mass_g = quantity_grams(quantity, UNIT_NONE);
    out->length_m = quantity_metres(quantity, UNIT_NONE);
    by_weight = rational_is_value(out->mass_g);
    if (!by_weight && !rational_is_value(out->length_m))
        return slice_fault(reader, &slice, DIAG_VALUE_UNIT,
                           "What you have is a weight in g or oz, or a length in m or yd.",
                           slice_example(reader, &slice));
    return slice_in_range(reader, &slice, slice.key->range,
                          by_weight ? out->mass_g : out->length_m,
                          by_weight ? UNIT_GRAM : UNIT_METRE) &&
           (!by_weight || has_ball(reader, &slice));
}

/* --- a swatch pulled as wide as it goes: 4 in to 5.3 in, 1 of 2 ---------------------- */

enum { PULLED_TIMES_MAX = 3 }; /* no knitting goes farther */

static const char stitches_range[] = "1 to 1000";

static bool read_lengths(const struct reader *reader, struct slice slice, struct rational *ratio)
{
    size_t to = slice_find_word(&slice, "to");
    struct slice before = slice_part(slice, slice.from, to), after;
    struct rational relaxed, pulled;

    if (to == slice.to || slice_length(&before) == 0)
        return slice_form_fault(reader, &slice);
    after = slice_part(slice, to + strlen("to"), slice.to);
    if (!slice_inches(reader, &before, slice.key->range, &relaxed) ||
        !slice_inches(reader, &after, slice.key->range, &pulled))
        return false;
    *ratio = rational_div(pulled, relaxed);
    if (rational_is_value(*ratio) && rational_compare(pulled, relaxed) > 0 &&
        rational_compare(*ratio, rational_whole(PULLED_TIMES_MAX)) <= 0)
        return true;
    return slice_fault(reader, &slice, DIAG_VALUE_RANGE,
                       rational_compare(pulled, relaxed) > 0
                           ? "No knitting pulls to more than three times its width."
                           : "Pulled, the swatch would be no wider than relaxed.",
                       arena_printf(reader->work->arena,
                                    "Write the relaxed length first and the pulled one behind it: pulls = %s.",
                                    reader_units(reader, slice.key->example, false)));
}

static bool read_share(const struct reader *reader, struct slice slice, struct given_pull *out)
{
    static const char *const of_word[] = {"of", NULL};

    if (!take_whole(reader, &slice, stitches_range, &out->own) ||
        !take_word(reader, &slice, of_word) ||
        !take_whole(reader, &slice, stitches_range, &out->all) || !take_end(reader, &slice))
        return false;
    if (out->own < out->all && out->own > out->all - out->own)
        return slice_fault(reader, &slice, DIAG_VALUE_RANGE,
                           arena_printf(reader->work->arena,
                                        "%d of %d stitches are more than half: that is not the scarcer yarn.",
                                        out->own, out->all),
                           arena_printf(reader->work->arena,
                                        "Write the stitches of the other yarn in that row: %d of %d.",
                                        out->all - out->own, out->all));
    if (out->own < out->all)
        return true;
    return slice_fault(reader, &slice, DIAG_VALUE_RANGE,
                       arena_printf(reader->work->arena, "%d of %d stitches is the whole row: nothing floats.",
                                    out->own, out->all),
                       "Write the stitches of the scarcer yarn in a row of the pulled swatch, of all: 2 of 12.");
}

bool form_pulls(const struct reader *reader, struct slice slice, void *value)
{
    struct given_pull *out = value;
    size_t comma = slice_find_comma(&slice);
    struct slice share = slice_part(slice, comma < slice.to ? comma + 1 : slice.to, slice.to);

    out->own = 1;
    out->all = 2;
    if (!read_lengths(reader, slice_part(slice, slice.from, comma), &out->ratio))
        return false;
    if (slice_length(&share) == 0)
        return true;
    if (reader->kind == SECTION_SWATCH) /* a plain one has one yarn */
        return read_share(reader, share, out);
    return slice_form_fault(reader, &share);
}
