/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * What she measured: counts, a row taken out, a swatch weighed, a ball band.
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

static void take_counts(const struct reader *reader, const struct slice *slice,
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
    if (out->count < n)
        out->count = 0;
}

struct given_counts reader_counts(struct reader *reader, const char *key)
{
    struct given_counts out = {0};
    struct quantity list[PROJECT_COUNTS_MAX];
    size_t offsets[PROJECT_COUNTS_MAX], fault_at = 0;
    struct slice slice;
    int n = 0, status;

    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    if (names_a_length(&slice)) {
        slice_fault(reader, &slice, DIAG_VALUE_FORM,
                    "The length that the counts were taken over stands once, in \"over\".",
                    arena_printf(reader->work->arena,
                                 "Write the counts alone, %s = %s, and over = %s on a line of "
                                 "its own.",
                                 key, slice.key->example, reader_units(reader, "4 in", false)));
        return out;
    }
    status = quantity_list_read(slice_text(&slice), slice_length(&slice), list, offsets,
                                PROJECT_COUNTS_MAX, &n, &fault_at);
    if (status != NUMBER_OK) {
        slice_number_fault(reader, &slice, status, fault_at);
    } else if (n > PROJECT_COUNTS_MAX) {
        slice_fault(reader, &slice, DIAG_VALUE_RANGE,
                    arena_printf(reader->work->arena, "There are %d counts here.", n),
                    arena_printf(reader->work->arena, "Write %d at most; five are plenty.",
                                 (int)PROJECT_COUNTS_MAX));
    } else {
        take_counts(reader, &slice, list, offsets, n, &out);
    }
    return out;
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
    if (took == slice.to || slice_length(&name) == 0) {
        form_fault(reader, &slice);
        return false;
    }
    length = slice_part(slice, took + strlen("took"), slice.to);
    if (!form_whole(reader, &count, slice.key->range, &out->yarn_sts[index]) ||
        !form_end(reader, &count) ||
        !slice_inches(reader, &length, yarn_length_range, &out->length_in[index]))
        return false;
    out->yarn[index] = slice_yarn(reader, &name);
    return true;
}

static bool read_two_yarns(struct reader *reader, struct slice slice, struct given_unravelled *out)
{
    size_t comma = slice_find_comma(&slice);
    struct slice first = slice_part(slice, slice.from, comma);
    struct slice second = slice_part(slice, comma < slice.to ? comma + 1 : slice.to, slice.to);
    bool fine;

    if (reader->kind == SECTION_SWATCH_PLAIN) {
        slice_fault(reader, &slice, DIAG_VALUE_FORM, "A plain row has one yarn only.",
                    slice_example(reader, &slice));
        return false;
    }
    fine = read_yarn_share(reader, first, out, 0);
    return read_yarn_share(reader, second, out, 1) && fine;
}

/* took 19 1/4 in, or: of cream took 19 1/4 in */
static bool read_one_yarn(const struct reader *reader, struct slice slice,
                          struct given_unravelled *out)
{
    size_t took = slice_find_word(&slice, "took");

    if (form_try_word(&slice, of_words)) {
        struct slice name = slice_part(slice, slice.from, took);

        if (took == slice.to || slice_length(&name) == 0) {
            form_fault(reader, &slice);
            return false;
        }
        out->yarn[0] = slice_yarn(reader, &name);
        slice = slice_part(slice, took, slice.to);
    }
    return form_word(reader, &slice, took_words) &&
           slice_inches(reader, &slice, yarn_length_range, &out->length_in[0]);
}

static struct given_unravelled read_row(struct reader *reader, const char *key, bool may_strand)
{
    struct given_unravelled out = {.yarn = {reader_no_yarn(reader), reader_no_yarn(reader)}};
    struct slice slice;

    if (!reader_slice(reader, key, &slice, &out.at) ||
        !form_whole(reader, &slice, slice.key->range, &out.row_sts) ||
        !form_word(reader, &slice, form_stitch_words)) {
        out.row_sts = 0;
        return out;
    }
    out.stranded = may_strand && form_try_sign(&slice, ':');
    if (!(out.stranded ? read_two_yarns(reader, slice, &out) : read_one_yarn(reader, slice, &out)))
        out.row_sts = 0;
    return out;
}

struct given_unravelled reader_unravelled(struct reader *reader, const char *key)
{
    return read_row(reader, key, true);
}

struct given_unravelled reader_marked(struct reader *reader, const char *key)
{
    return read_row(reader, key, false);
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
    if (!rational_is_value(*grams)) {
        slice_unit_fault(reader, slice, quantity);
        return false;
    }
    return slice_in_range(reader, slice, slice->key->range, *grams, UNIT_GRAM);
}

struct given_grams reader_grams(struct reader *reader, const char *key)
{
    struct given_grams out = {.g = rational_none()};
    struct rational unit_g;
    struct slice slice;

    if (reader_slice(reader, key, &slice, &out.at) && !slice_grams(reader, &slice, &out.g, &unit_g))
        out.g = rational_none();
    return out;
}

static const char count_range[] = "1 to 100000";

/* 6.6 g: 40 stitches, 44 rows */
struct given_weight reader_weight(struct reader *reader, const char *key)
{
    struct given_weight out = {.mass_g = rational_none()};
    struct slice slice, mass;
    size_t colon;

    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    colon = slice_find(&slice, ':');
    mass = slice_part(slice, slice.from, colon);
    slice = slice_part(slice, colon < slice.to ? colon + 1 : slice.to, slice.to);
    if (!slice_grams(reader, &mass, &out.mass_g, &out.unit_g) ||
        !form_whole(reader, &slice, count_range, &out.columns) ||
        !form_word(reader, &slice, form_stitch_words))
        return out;
    form_try_sign(&slice, ',');
    if (!form_whole(reader, &slice, count_range, &out.rows) ||
        !form_word(reader, &slice, form_row_words) || !form_end(reader, &slice))
        out.rows = 0;
    return out;
}

/* cream 48.3 g to 44.1 g: the name ends where the first number starts. */
static bool read_two_weighings(const struct reader *reader, struct slice slice,
                               struct given_weighed *out)
{
    size_t to = slice_find_word(&slice, "to");
    struct slice before = slice_part(slice, slice.from, to), name, after;

    if (to == slice.to) {
        form_fault(reader, &slice);
        return false;
    }
    after = slice_part(slice, to + strlen("to"), slice.to);
    name = before;
    while (before.from < before.to && !(before.entry->value[before.from] >= '0' &&
                                        before.entry->value[before.from] <= '9'))
        before.from++;
    name = slice_part(name, name.from, before.from);
    if (slice_length(&name) == 0 || slice_length(&before) == 0 || slice_length(&after) == 0) {
        form_fault(reader, &slice);
        return false;
    }
    out->yarn = slice_yarn(reader, &name);
    return slice_grams(reader, &before, &out->before_g, &out->before_unit_g) &&
           slice_grams(reader, &after, &out->after_g, &out->after_unit_g);
}

/* 1600 stitches, or: 1600 stitches, 950 in cream */
static bool read_stitches_of_ball(const struct reader *reader, struct slice slice,
                                  struct given_weighed *out)
{
    struct given_yarn again;

    if (!form_whole(reader, &slice, count_range, &out->all_sts) ||
        !form_word(reader, &slice, form_stitch_words))
        return false;
    out->yarn_sts = out->all_sts;
    if (!form_try_sign(&slice, ','))
        return form_end(reader, &slice);
    if (!form_whole(reader, &slice, count_range, &out->yarn_sts))
        return false;
    form_try_word(&slice, form_stitch_words);
    if (!form_word(reader, &slice, of_words) || slice_length(&slice) == 0) {
        if (slice_length(&slice) == 0)
            form_fault(reader, &slice);
        return false;
    }
    again = slice_yarn(reader, &slice);
    if (again.index == out->yarn.index && out->yarn_sts <= out->all_sts)
        return true;
    slice_fault(reader, &slice, DIAG_VALUE_FORM,
                again.index == out->yarn.index
                    ? "More stitches in the yarn than there are in all."
                    : "The ball is of one yarn, the stitches of another.",
                slice_example(reader, &slice));
    return false;
}

/* cream 48.3 g to 44.1 g: 1600 stitches, 950 in cream */
struct given_weighed reader_weighed(struct reader *reader, const char *key)
{
    struct given_weighed out = {.yarn = reader_no_yarn(reader)};
    struct slice slice, balls;
    size_t colon;

    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    colon = slice_find(&slice, ':');
    balls = slice_part(slice, slice.from, colon);
    slice = slice_part(slice, colon < slice.to ? colon + 1 : slice.to, slice.to);
    if (!read_two_weighings(reader, balls, &out) || !read_stitches_of_ball(reader, slice, &out))
        out.all_sts = 0;
    return out;
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
    if (!rational_is_value(ball->mass_g) || !rational_is_value(ball->length_m)) {
        slice_fault(reader, slice, DIAG_VALUE_UNIT,
                    "A ball is a weight in g or oz and a length in m or yd.",
                    slice_example(reader, slice));
        return false;
    }
    return slice_in_range(reader, slice, slice->key->range, ball->mass_g, UNIT_GRAM) &&
           slice_in_range(reader, slice, slice->key->range, ball->length_m, UNIT_METRE);
}

struct ball reader_ball(struct reader *reader, const char *key)
{
    struct ball out = {.mass_g = rational_none(), .length_m = rational_none()};
    struct quantity list[2];
    struct slice slice;
    size_t fault_at = 0;
    int n = 0, status;

    if (!reader_slice(reader, key, &slice, &out.at))
        return out;
    status =
        quantity_list_read(slice_text(&slice), slice_length(&slice), list, NULL, 2, &n, &fault_at);
    if (status != NUMBER_OK && status != NUMBER_TRAILING)
        slice_number_fault(reader, &slice, status, fault_at);
    else if (n != 2)
        slice_fault(reader, &slice, DIAG_VALUE_FORM,
                    "A ball is two things with a comma between: its weight, and the length of its "
                    "yarn.",
                    slice_example(reader, &slice));
    else if (!take_ball(reader, &slice, list, &out))
        out.mass_g = out.length_m = rational_none();
    return out;
}
