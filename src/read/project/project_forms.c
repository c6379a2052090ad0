/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Values read from left to right; those of parts, edges and measures.
 */
#include <string.h>

#include "base/arena.h"
#include "base/work.h"
#include "project_reader.h"

const char *const stitch_words[] = {"stitches", "stitch", "sts", "st", NULL};
const char *const row_words[] = {"rounds", "round", "rows", "row", "rnds", "rnd", NULL};

/* --- a value from left to right ----------------------------------------------------- */

bool slice_form_fault(const struct reader *reader, const struct slice *slice)
{
    struct slice whole = slice_part(*slice, 0, strlen(slice->entry->value));
    bool at_end = slice_length(slice) == 0;

    return slice_fault(reader, at_end ? &whole : slice, DIAG_VALUE_FORM,
                       at_end
                           ? arena_printf(reader->work->arena, "Something is missing behind \"%s\".",
                                          slice_seen(reader, &whole))
                           : arena_printf(reader->work->arena, "\"%s\" is not what \"%s\" asks for here.",
                                          slice_seen(reader, slice), slice->key->key),
                       slice_example(reader, slice));
}

bool try_word(struct slice *slice, const char *const *words)
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

bool take_word(const struct reader *reader, struct slice *slice, const char *const *words)
{
    return try_word(slice, words) || slice_form_fault(reader, slice);
}

bool try_sign(struct slice *slice, char sign)
{
    if (slice_length(slice) == 0 || *slice_text(slice) != sign)
        return false;
    *slice = slice_part(*slice, slice->from + 1, slice->to);
    return true;
}

bool take_end(const struct reader *reader, const struct slice *slice)
{
    return slice_length(slice) == 0 || slice_form_fault(reader, slice);
}

bool take_whole(const struct reader *reader, struct slice *slice, const char *range, int *value)
{
    struct rational number;
    struct slice at;
    size_t used = 0;
    int status = number_read(slice_text(slice), slice_length(slice), &number, &used);

    if (status == NUMBER_MISSING)
        return slice_form_fault(reader, slice);
    if (status != NUMBER_OK)
        return slice_number_fault(reader, slice, status, 0);
    at = slice_part(*slice, slice->from, slice->from + used);
    if (!slice_in_range(reader, &at, range, number, UNIT_NONE))
        return false;
    if (number.den != 1)
        return slice_fault(reader, &at, DIAG_VALUE_NUMBER,
                           arena_printf(reader->work->arena, "\"%s\" must be a whole number here.",
                                        slice_seen(reader, &at)),
                           slice_example(reader, &at));
    *value = (int)number.num;
    *slice = slice_part(*slice, at.to, slice->to);
    return true;
}

/* --- rib ---------------------------------------------------------------------------- */

static const char *const knit_words[] = {"knit", "k", NULL};
static const char *const purl_words[] = {"purl", "p", NULL};

/* knit 2 purl 2, 12 rounds */
static bool take_rib(const struct reader *reader, struct slice slice, struct cast_on *cast_on)
{
    const char *range = slice.key->range;

    if (!take_word(reader, &slice, knit_words) ||
        !take_whole(reader, &slice, range, &cast_on->rib_knit))
        return false;
    try_sign(&slice, ',');
    if (!take_word(reader, &slice, purl_words) ||
        !take_whole(reader, &slice, range, &cast_on->rib_purl))
        return false;
    try_sign(&slice, ',');
    return take_whole(reader, &slice, range, &cast_on->rib_rounds) &&
           take_word(reader, &slice, row_words) && take_end(reader, &slice);
}

bool form_rib(const struct reader *reader, struct slice slice, void *value)
{
    struct given_text *out = value;
    struct cast_on *cast_on = &reader->project->cast_on;

    out->text = slice_words(reader, &slice);
    if (take_rib(reader, slice, cast_on))
        return true;
    cast_on->rib_rounds = 0;
    return false;
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
bool form_rib_stitches(const struct reader *reader, struct slice slice, void *value)
{
    static const char *const same[] = {"same", "a number of stitches, or per cent of them"};
    struct given_whole *out = value;
    struct cast_on *cast_on = &reader->project->cast_on;
    struct quantity quantity;
    bool fine;

    if (is_word_or_fault(reader, &slice, same, &fine) || !fine)
        return fine;
    if (!slice_quantity(reader, &slice, &quantity))
        return false;
    if (quantity.unit != UNIT_PERCENT) {
        fine = slice_whole(reader, &slice, UNIT_STITCH, &out->value);
        cast_on->stitches_kind = fine ? RIB_COUNT : RIB_SAME;
        return fine;
    }
    fine = slice_ratio(reader, &slice, &cast_on->ratio.ratio);
    cast_on->ratio.at = out->at;
    cast_on->stitches_kind = fine ? RIB_RATIO : RIB_SAME;
    return fine;
}

/* --- parts and edges ---------------------------------------------------------------- */

/* 1 round cream */
bool form_plain_rounds(const struct reader *reader, struct slice slice, void *value)
{
    struct plain_rounds *out = value;

    if (!take_whole(reader, &slice, slice.key->range, &out->rounds) ||
        !take_word(reader, &slice, row_words))
        return false;
    if (slice_length(&slice) == 0) {
        slice = slice_part(slice, 0, slice.to);
        return slice_fault(
            reader, &slice, DIAG_VALUE_FORM,
            arena_printf(reader->work->arena, "\"%s\": in which yarn?", slice_seen(reader, &slice)),
            slice_example(reader, &slice));
    }
    out->yarn = slice_yarn(reader, &slice);
    return true;
}

/* standard, cream */
bool form_bind_off(const struct reader *reader, struct slice slice, void *value)
{
    static const char *const kinds[] = {"standard", "sewn", "cord", "none"};
    enum { KINDS = sizeof kinds / sizeof kinds[0] };
    struct given_choice *out = value;
    size_t comma = slice_find(&slice, ',');
    struct slice kind = slice_part(slice, slice.from, comma), yarn;

    out->value = slice_choice(reader, &kind, kinds, KINDS);
    if (out->value < 0)
        return slice_choice_fault(reader, &kind, kinds, KINDS);
    if (comma == slice.to)
        return true;
    yarn = slice_part(slice, comma + 1, slice.to);
    if (slice_length(&yarn) == 0)
        slice_form_fault(reader, &yarn);
    else
        reader->project->bind_off_yarn = slice_yarn(reader, &yarn);
    return true;
}

static void add_chart(const struct reader *reader, struct part *part, const struct slice *name)
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

bool form_charts(const struct reader *reader, struct slice slice, void *value)
{
    struct part *part = reader->home;
    size_t comma;

    (void)value;
    do {
        struct slice name;

        comma = slice_find(&slice, ',');
        name = slice_part(slice, slice.from, comma);
        add_chart(reader, part, &name);
        slice.from = comma < slice.to ? comma + 1 : slice.to;
    } while (comma < slice.to && part->ncharts <= PROJECT_CHARTS_MAX);
    return true;
}

/* fit, or 7 */
bool form_repeats(const struct reader *reader, struct slice slice, void *value)
{
    static const char *const fit[] = {"fit", "a whole number"};
    struct given_whole *out = value;
    bool fine;

    if (is_word_or_fault(reader, &slice, fit, &fine) || !fine)
        return fine;
    return slice_whole(reader, &slice, UNIT_NONE, &out->value);
}

/* --- how a band is made to fit ------------------------------------------------------- */

/* The piece has the other measure: around in the round, width flat. */
static bool refuse_key(const struct reader *reader, const struct slice *slice, bool around)
{
    struct arena *arena = reader->work->arena;
    const char *seen = slice_seen(reader, slice);

    return slice_fault(reader, slice, DIAG_SHARE_OF_NOTHING,
                       arena_printf(arena, "\"%s\" is a share of %s, and the measure in [measure] is %s.", seen,
                                    around ? "a width" : "the way around", around ? "around" : "a width"),
                       arena_printf(arena, "Write %s = %s.", around ? "around" : "width", seen));
}

static bool refuse_share(const struct reader *reader, const struct slice *slice)
{
    return slice_fault(reader, slice, DIAG_SHARE_OF_NOTHING,
                       arena_printf(reader->work->arena,
                                    "\"%s\" is a share of the measure in [measure], and none is there.",
                                    slice_seen(reader, slice)),
                       arena_printf(reader->work->arena,
                                    "Write the whole of it under [measure], like this: %s = %s. Or "
                                    "give this part a length of its own.",
                                    slice->key->key, reader_units(reader, "40 in", false)));
}

/* 75 %, or 40 in */
bool form_measure(const struct reader *reader, struct slice slice, void *value)
{
    struct given_length *out = value;
    const struct project *project = reader->project;
    bool width = strcmp(slice.key->key, "width") == 0;
    struct rational whole = width ? project->width.in : project->around.in;
    struct rational other = width ? project->around.in : project->width.in;
    struct quantity quantity;
    struct rational ratio;
    size_t fault_at;

    if (quantity_read(slice_text(&slice), slice_length(&slice), &quantity, &fault_at) != NUMBER_OK ||
        quantity.unit != UNIT_PERCENT)
        return form_length(reader, slice, value);
    if (!slice_ratio(reader, &slice, &ratio))
        return false;
    if (!rational_is_value(whole))
        return rational_is_value(other) ? refuse_key(reader, &slice, width)
                                        : refuse_share(reader, &slice);
    out->in = rational_mul(whole, ratio);
    if (rational_is_value(out->in))
        ((struct part *)reader->home)->share = (struct given_ratio){.ratio = ratio, .at = out->at};
    return true;
}

static const char *const remedy_words[] = {"another count", "shape",        "plain columns",
                                           "trim",          "pad",          "part repeats",
                                           "plain sides",   "another gauge", "redraw"};
static const char *const repeat_words[] = {"repeats", "repeat", NULL};
enum { REMEDY_WORDS = sizeof remedy_words / sizeof remedy_words[0] };

/* plain columns, 5 repeats */
bool form_remedy(const struct reader *reader, struct slice slice, void *value)
{
    struct given_remedy *out = value;
    size_t comma = slice_find(&slice, ',');
    struct slice word = slice_part(slice, slice.from, comma), count;
    int found = slice_choice(reader, &word, remedy_words, REMEDY_WORDS);

    if (found < 0)
        return slice_choice_fault(reader, &word, remedy_words, REMEDY_WORDS);
    out->word = (enum remedy_word)(REMEDY_NONE + 1 + found);
    count = slice_part(slice, comma < slice.to ? comma + 1 : slice.to, slice.to);
    return comma == slice.to || (take_whole(reader, &count, count.key->range, &out->repeats) &&
                                 take_word(reader, &count, repeat_words) && take_end(reader, &count));
}

/* "stitch 5", or the number alone. */
bool form_stitch(const struct reader *reader, struct slice slice, void *value)
{
    struct given_whole *out = value;

    try_word(&slice, stitch_words);
    return take_whole(reader, &slice, slice.key->range, &out->value) && take_end(reader, &slice);
}

/* --- sizes -------------------------------------------------------------------------- */

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
        if (reader_same(sizes->name[i], name))
            return slice_fault(reader, slice, DIAG_VALUE_FORM,
                               arena_printf(reader->work->arena, "Two sizes are called %s.", name),
                               "Give each size a name of its own.");
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
static bool fault_colon(const struct reader *reader, const struct slice *slice,
                        const struct slice *length)
{
    return slice_fault(reader, slice, DIAG_VALUE_FORM,
                       arena_printf(reader->work->arena, "\"%s\" holds two numbers, and may be read two ways.",
                                    slice_words(reader, length)),
                       "A name with a number in it ends in a colon, like this: sizes = age 2: 18 in, age 4: 19 in.");
}

static bool read_size(const struct reader *reader, struct slice slice, struct given_sizes *sizes)
{
    size_t end = name_ends(&slice);
    struct slice name = slice_part(slice, slice.from, end), length;
    const char *words = slice_words(reader, &name);

    if (sizes->count == PROJECT_SIZES_MAX)
        return slice_fault(reader, &slice, DIAG_VALUE_RANGE,
                           arena_printf(reader->work->arena, "There are more than %d sizes.",
                                        (int)PROJECT_SIZES_MAX),
                           "Leave some out.");
    if (end < slice.to && slice.entry->value[end] == ':')
        end++;
    length = slice_part(slice, end, slice.to);
    if (another_number(&length))
        return fault_colon(reader, &slice, &length);
    if (slice_length(&name) == 0 || slice_length(&length) == 0)
        return slice_fault(reader, &slice, DIAG_VALUE_FORM,
                           slice_length(&name) == 0 ? "A size needs a name before its measure."
                                                    : "A size needs its measure behind its name.",
                           slice_example(reader, &slice));
    if (!slice_inches(reader, &length, slice.key->range, &sizes->in[sizes->count]) ||
        !is_new(reader, &name, words, sizes))
        return false;
    sizes->name[sizes->count++] = words;
    return true;
}

/* S 8 in, M 9 in, age 4: 18 in */
bool form_sizes(const struct reader *reader, struct slice slice, void *value)
{
    struct given_sizes *out = value;
    bool good = true;

    while (slice.from < slice.to && (good || out->count < PROJECT_SIZES_MAX)) {
        size_t end = size_ends(&slice);

        good = read_size(reader, slice_part(slice, slice.from, end), out) && good;
        slice.from = end < slice.to ? end + 1 : slice.to;
    }
    return good;
}
