/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "project_reader.h"

const char *const form_stitch_words[] = {"stitches", "stitch", "sts", "st", NULL};
const char *const form_row_words[] = {"rounds", "round", "rows", "row", "rnds", "rnd", NULL};

/* --- a value from left to right ----------------------------------------------------- */

void form_fault(const struct reader *reader, const struct slice *slice)
{
    struct slice whole = slice_part(*slice, 0, strlen(slice->entry->value));
    bool at_end = slice_length(slice) == 0;

    slice_fault(reader, at_end ? &whole : slice, DIAG_VALUE_FORM,
                at_end
                    ? arena_printf(reader->work->arena, "Something is missing behind \"%s\".",
                                   slice_seen(reader, &whole))
                    : arena_printf(reader->work->arena, "\"%s\" is not what \"%s\" asks for here.",
                                   slice_seen(reader, slice), slice->key->key),
                slice_example(reader, slice));
}

bool form_try_word(struct slice *slice, const char *const *words)
{
    const char *text = slice_text(slice);
    size_t length = 0;

    while (length < slice_length(slice) && reader_small(text[length]) >= 'a' &&
           reader_small(text[length]) <= 'z')
        length++;
    for (int i = 0; words[i]; i++) {
        size_t k = 0;

        while (k < length && words[i][k] == reader_small(text[k]))
            k++;
        if (k != length || words[i][k] != '\0')
            continue;
        *slice = slice_part(*slice, slice->from + length, slice->to);
        return true;
    }
    return false;
}

bool form_word(const struct reader *reader, struct slice *slice, const char *const *words)
{
    if (form_try_word(slice, words))
        return true;
    form_fault(reader, slice);
    return false;
}

bool form_try_sign(struct slice *slice, char sign)
{
    if (slice_length(slice) == 0 || *slice_text(slice) != sign)
        return false;
    *slice = slice_part(*slice, slice->from + 1, slice->to);
    return true;
}

bool form_end(const struct reader *reader, const struct slice *slice)
{
    if (slice_length(slice) == 0)
        return true;
    form_fault(reader, slice);
    return false;
}

bool form_whole(const struct reader *reader, struct slice *slice, const char *range, int *value)
{
    struct rational number;
    struct slice at;
    size_t used = 0;
    int status = number_read(slice_text(slice), slice_length(slice), &number, &used);

    if (status == NUMBER_MISSING) {
        form_fault(reader, slice);
        return false;
    }
    if (status != NUMBER_OK) {
        slice_number_fault(reader, slice, status, 0);
        return false;
    }
    at = slice_part(*slice, slice->from, slice->from + used);
    if (!slice_in_range(reader, &at, range, number, UNIT_NONE))
        return false;
    if (number.den != 1) {
        slice_fault(reader, &at, DIAG_VALUE_NUMBER,
                    arena_printf(reader->work->arena, "\"%s\" must be a whole number here.",
                                 slice_seen(reader, &at)),
                    slice_example(reader, &at));
        return false;
    }
    *value = (int)number.num;
    *slice = slice_part(*slice, at.to, slice->to);
    return true;
}

/* --- rib ---------------------------------------------------------------------------- */

static const char *const knit_words[] = {"knit", "k", NULL};
static const char *const purl_words[] = {"purl", "p", NULL};

/* knit 2 purl 2, 12 rounds */
static bool read_rib(struct reader *reader, struct slice slice, struct cast_on *cast_on)
{
    const char *range = slice.key->range;

    if (!form_word(reader, &slice, knit_words) ||
        !form_whole(reader, &slice, range, &cast_on->rib_knit))
        return false;
    form_try_sign(&slice, ',');
    if (!form_word(reader, &slice, purl_words) ||
        !form_whole(reader, &slice, range, &cast_on->rib_purl))
        return false;
    form_try_sign(&slice, ',');
    return form_whole(reader, &slice, range, &cast_on->rib_rounds) &&
           form_word(reader, &slice, form_row_words) && form_end(reader, &slice);
}

void reader_rib(struct reader *reader, struct cast_on *cast_on)
{
    struct slice slice;

    if (!reader_slice(reader, "rib", &slice, &cast_on->rib.at))
        return;
    cast_on->rib.text = slice_words(reader, &slice);
    if (!read_rib(reader, slice, cast_on))
        cast_on->rib_rounds = 0;
}

static bool has_digit(const struct slice *slice)
{
    for (size_t i = slice->from; i < slice->to; i++)
        if (slice->entry->value[i] >= '0' && slice->entry->value[i] <= '9')
            return true;
    return false;
}

/* Is it that word? If it is neither that nor a number, say what may stand here. */
static bool is_word_or_fault(const struct reader *reader, const struct slice *slice,
                             const char *const words[2], bool *fine)
{
    bool is_word = slice_choice(reader, slice, words, 1) == 0;

    *fine = is_word || has_digit(slice);
    if (!*fine)
        slice_choice_fault(reader, slice, words, 2);
    return is_word;
}

/* same, 72 or 90 % */
void reader_rib_stitches(struct reader *reader, struct cast_on *cast_on)
{
    static const char *const same[] = {"same", "a number of stitches, or per cent of them"};
    struct slice slice;
    struct quantity quantity;
    struct place at;
    bool fine;

    cast_on->stitches_kind = RIB_SAME;
    if (!reader_slice(reader, "rib stitches", &slice, &at) ||
        is_word_or_fault(reader, &slice, same, &fine) || !fine ||
        !slice_quantity(reader, &slice, &quantity))
        return;
    cast_on->stitches.at = cast_on->ratio.at = at;
    if (quantity.unit == UNIT_PERCENT) {
        if (slice_ratio(reader, &slice, &cast_on->ratio.ratio))
            cast_on->stitches_kind = RIB_RATIO;
    } else if (slice_whole(reader, &slice, UNIT_STITCH, &cast_on->stitches.value)) {
        cast_on->stitches_kind = RIB_COUNT;
    }
}

/* --- parts and edges ---------------------------------------------------------------- */

/* 1 round cream */
struct plain_rounds reader_plain_rounds(struct reader *reader, const char *key)
{
    struct plain_rounds out = {.yarn = reader_no_yarn(reader)};
    struct slice slice;
    int rounds;

    if (!reader_slice(reader, key, &slice, &out.at) ||
        !form_whole(reader, &slice, slice.key->range, &rounds) ||
        !form_word(reader, &slice, form_row_words))
        return out;
    if (slice_length(&slice) == 0) {
        slice = slice_part(slice, 0, slice.to);
        slice_fault(
            reader, &slice, DIAG_VALUE_FORM,
            arena_printf(reader->work->arena, "\"%s\": in which yarn?", slice_seen(reader, &slice)),
            slice_example(reader, &slice));
        return out;
    }
    out.rounds = rounds;
    out.yarn = slice_yarn(reader, &slice);
    return out;
}

/* standard, cream */
void reader_bind_off(struct reader *reader, struct project *project)
{
    static const char *const kinds[] = {"standard", "sewn", "cord", "none"};
    enum { KINDS = sizeof kinds / sizeof kinds[0] };
    struct slice slice, kind, yarn;
    size_t comma;
    int found;

    project->bind_off = (struct given_choice){.value = BIND_OFF_STANDARD};
    project->bind_off_yarn = reader_no_yarn(reader);
    if (!reader_slice(reader, "bind-off", &slice, &project->bind_off.at))
        return;
    comma = slice_find(&slice, ',');
    kind = slice_part(slice, slice.from, comma);
    found = slice_choice(reader, &kind, kinds, KINDS);
    if (found < 0) {
        slice_choice_fault(reader, &kind, kinds, KINDS);
        return;
    }
    project->bind_off.value = found;
    if (comma == slice.to)
        return;
    yarn = slice_part(slice, comma + 1, slice.to);
    if (slice_length(&yarn) == 0)
        form_fault(reader, &yarn);
    else
        project->bind_off_yarn = slice_yarn(reader, &yarn);
}

static void add_chart(struct reader *reader, struct part *part, const struct slice *name)
{
    if (slice_length(name) == 0) {
        slice_fault(reader, name, DIAG_VALUE_FORM, "There is a comma with no chart beside it.",
                    "Name a chart there, or take the comma out.");
        return;
    }
    if (part->ncharts == PROJECT_CHARTS_MAX) {
        slice_fault(reader, name, DIAG_VALUE_RANGE,
                    arena_printf(reader->work->arena, "More than %d charts are set side by side.",
                                 PROJECT_CHARTS_MAX),
                    "Draw some of them as one chart.");
        return;
    }
    part->chart[part->ncharts++] = (struct given_text){
        .text = arena_strndup(reader->work->arena, slice_text(name), slice_length(name)),
        .at = slice_place(name)};
}

void reader_charts(struct reader *reader, struct part *part)
{
    struct slice slice;
    struct place at;
    size_t comma;

    if (!reader_slice(reader, "chart", &slice, &at))
        return;
    do {
        struct slice name;

        comma = slice_find(&slice, ',');
        name = slice_part(slice, slice.from, comma);
        add_chart(reader, part, &name);
        slice.from = comma < slice.to ? comma + 1 : slice.to;
    } while (comma < slice.to && part->ncharts <= PROJECT_CHARTS_MAX);
}

/* fit, or 7 */
struct given_whole reader_repeats(struct reader *reader, const char *key)
{
    static const char *const fit[] = {"fit", "a whole number"};
    struct slice slice;
    struct given_whole out = {0};
    bool fine;

    if (reader_slice(reader, key, &slice, &out.at) &&
        !is_word_or_fault(reader, &slice, fit, &fine) && fine)
        slice_whole(reader, &slice, UNIT_NONE, &out.value);
    return out;
}
