/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "words.h"

#include <inttypes.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "base/apportion.h"
#include "base/arena.h"

static const double CM_PER_IN = 2.54;
static const double METRES_PER_YARD = 0.9144;

const char *words_format(const struct page *page, const char *format, ...)
{
    va_list arguments;
    char *words;

    va_start(arguments, format);
    words = arena_vprintf(page->work->arena, format, arguments);
    va_end(arguments);
    return words;
}

/* --- fractions ---------------------------------------------------------------------- */

struct fraction {
    const char *plain, *sign;
};

static const struct fraction fractions[] = {
    {"1/8", "\u215B"}, {"1/4", "\u00BC"}, {"3/8", "\u215C"}, {"1/2", "\u00BD"},
    {"5/8", "\u215D"}, {"3/4", "\u00BE"}, {"7/8", "\u215E"},
};

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

/* A fraction standing alone at words[i]: no digit, point or stroke of a longer number beside it. */
static const struct fraction *fraction_at(const char *words, size_t i)
{
    if (i > 0 && (is_digit(words[i - 1]) || words[i - 1] == '/' || words[i - 1] == '.'))
        return NULL;
    for (size_t k = 0; k < sizeof fractions / sizeof *fractions; k++)
        if (strncmp(words + i, fractions[k].plain, 3) == 0 && !is_digit(words[i + 3]) &&
            words[i + 3] != '/')
            return &fractions[k];
    return NULL;
}

/* The blank at words[i] stands between a number and its unit or fraction. */
static bool binds(const char *words, size_t i)
{
    static const char *const units[] = {"in ", "in)", "in,", "in.", "in:", "in;", "cm", "mm", "%"};

    if (words[i] != ' ' || i == 0 || !is_digit(words[i - 1]))
        return false;
    for (size_t k = 0; k < sizeof units / sizeof *units; k++)
        if (strncmp(words + i + 1, units[k], strlen(units[k])) == 0)
            return true;
    return fraction_at(words, i + 1) != NULL;
}

const char *words_set(const struct page *page, const char *words)
{
    struct text set = text_create(page->work->arena);

    for (size_t i = 0; words[i];) {
        const struct fraction *fraction = page->style->utf8 ? fraction_at(words, i) : NULL;

        if (!fraction) {
            text_add_bytes(&set, binds(words, i) ? WORDS_TIE : words + i, 1);
            i++;
            continue;
        }
        if (set.length > 0 && set.bytes[set.length - 1] == *WORDS_TIE)
            set.bytes[--set.length] = '\0';
        text_add(&set, fraction->sign);
        i += 3;
    }
    return set.bytes;
}

/* --- lengths ------------------------------------------------------------------------ */

const char *words_tie(const struct page *page, const char *words)
{
    struct text tied = text_create(page->work->arena);

    for (const char *c = words; *c; c++)
        text_add_bytes(&tied, *c == ' ' ? WORDS_TIE : c, 1);
    return tied.bytes;
}

const char *words_untie(const struct page *page, const char *words)
{
    char *untied = arena_printf(page->work->arena, "%s", words);

    for (char *c = untied; *c; c++)
        *c = *c == *WORDS_TIE ? ' ' : *c;
    return untied;
}

const char *words_decimal(const struct page *page, double value, int decimals)
{
    return say_decimal(page->work->arena, value, decimals);
}

static const double EIGHTH_NEAR = 0.01; /* as good as on the ruler */

const char *words_length(const struct page *page, double inches)
{
    return words_set(page, say_length(page->work->arena, inches, page->plan->cm_first));
}

/* Inches and centimetres in digits that are written already. */
static const char *both_units(const struct page *page, const char *in, const char *cm)
{
    return words_set(page, say_both(page->work->arena, page->plan->cm_first, in, "in", cm, "cm"));
}

/* Steps to the leading unit: to the inch, or to the centimetre. */
static double steps_of(const struct page *page, enum words_step step)
{
    static const double inch[] = {8.0, 16.0, 100.0}, cm[] = {10.0, 20.0, 100.0};

    return page->plan->cm_first ? cm[step] * CM_PER_IN : inch[step];
}

enum words_step words_step_apart(const struct page *page, double a_in, double b_in)
{
    for (enum words_step step = WORDS_STEP; step < WORDS_STEP_HUNDREDTH; step++) {
        double steps = steps_of(page, step);

        if (llround(a_in * steps) - llround(b_in * steps) == llround((a_in - b_in) * steps))
            return step;
    }
    return WORDS_STEP_HUNDREDTH;
}

/* "8 5/16" */
static const char *sixteenths(const struct page *page, double inches)
{
    long sixteenth = lround(inches * 16.0);
    struct text text = text_create(page->work->arena);

    if (sixteenth % 2 == 0) {
        text_eighths(&text, (double)sixteenth / 16.0);
        return text.bytes;
    }
    if (sixteenth >= 16)
        text_addf(&text, "%ld" WORDS_TIE, sixteenth / 16);
    text_addf(&text, "%ld/16", sixteenth % 16);
    return text.bytes;
}

const char *words_length_step(const struct page *page, double inches, enum words_step step)
{
    const char *in, *cm;

    if (step == WORDS_STEP)
        return words_length(page, inches);
    in = step == WORDS_STEP_HALF ? sixteenths(page, inches) : words_decimal(page, inches, 2);
    cm = words_decimal(page, step == WORDS_STEP_HALF && page->plan->cm_first
                                 ? (double)lround(inches * CM_PER_IN * 20.0) / 20.0
                                 : inches * CM_PER_IN,
                       step == WORDS_STEP_HALF && !page->plan->cm_first ? 1 : 2);
    return both_units(page, in, cm);
}

const char *words_sewn(const struct page *page, double sewn_in)
{
    return sewn_in > 0.0 ? words_format(page, "; sewn up %s, the edge stitches in the seam",
                                        words_length(page, sewn_in))
                         : "";
}

const char *words_limit(const struct page *page)
{
    double inches = page->plan->piece.limit_in;
    double eighths = 8 * inches;

    if (fabs(eighths - floor(eighths + 0.5)) < EIGHTH_NEAR ||
        (page->plan->cm_first && fabs(inches * CM_PER_IN * 10 - floor(inches * CM_PER_IN * 10 + 0.5)) < EIGHTH_NEAR))
        return words_length(page, inches);
    return both_units(page, words_decimal(page, inches, 2), words_decimal(page, inches * CM_PER_IN, 2));
}

const char *words_fine_length(const struct page *page, double mm)
{
    return words_set(page, say_fine_length(page->work->arena, mm, page->plan->cm_first));
}

const char *words_gauge(const struct page *page, double per_in)
{
    return words_set(page, say_gauge(page->work->arena, per_in, 2, page->plan->cm_first));
}

/* Ten and more as whole numbers, less with one decimal: nobody measures yarn closer. */
static const char *measure(const struct page *page, double value)
{
    const double whole_from = 9.95;

    if (value < whole_from)
        return words_decimal(page, value, 1);
    return words_grouped(page, (int64_t)llround(value));
}

static const char *yards(const struct page *page, double metres)
{
    return words_format(page, "%s" WORDS_TIE "yd", measure(page, metres / METRES_PER_YARD));
}

static const char *metres_of(const struct page *page, double metres)
{
    return words_format(page, "%s" WORDS_TIE "m", measure(page, metres));
}

const char *words_yarn_length_leading(const struct page *page, double metres)
{
    return page->plan->cm_first ? metres_of(page, metres) : yards(page, metres);
}

const char *words_yarn_length_other(const struct page *page, double metres)
{
    return page->plan->cm_first ? yards(page, metres) : metres_of(page, metres);
}

const char *words_yarn_length(const struct page *page, double metres)
{
    return words_format(page, "%s (%s)", words_yarn_length_leading(page, metres),
                        words_yarn_length_other(page, metres));
}

static const char *column_words(const struct page *page, int64_t steps, bool tenths)
{
    const char *unit = page->plan->cm_first ? "m" : "yd";

    return words_format(page, "%s" WORDS_TIE "%s",
                        tenths ? words_format(page, "%" PRId64 ".%" PRId64, steps / 10, steps % 10)
                               : words_grouped(page, steps),
                        unit);
}

void words_yarn_column(const struct page *page, const double *metres, int n, const char **out,
                       const char **sum)
{
    const double tenths_below = 99.95, firm = 10.0; /* a step on less would show */
    double part[APPORTION_MAX] = {0.0}, all = 0.0;
    int64_t steps[APPORTION_MAX], whole;
    bool tenths;

    for (int i = 0; i < n; i++) {
        part[i] = page->plan->cm_first ? metres[i] : metres[i] / METRES_PER_YARD;
        all += part[i];
    }
    tenths = all < tenths_below;
    whole = apportion(part, n, tenths ? 0.1 : 1.0, firm, steps);
    for (int i = 0; i < n; i++)
        out[i] = steps[i] > 0 ? column_words(page, steps[i], tenths)
                 : part[i] > 0.0 ? words_format(page, "<%s", column_words(page, 1, tenths))
                                 : ".";
    *sum = column_words(page, whole, tenths);
}

char words_use_letter(enum yarn_use use)
{
    static const char letters[USE_COUNT] = {
        [USE_STITCHES] = 'S',  [USE_FLOATS] = 'F',   [USE_CATCHES] = 'C',  [USE_CAST_ON] = 'O',
        [USE_RIB] = 'R',       [USE_PLAIN] = 'P',    [USE_SELVEDGE] = 'E', [USE_STEEK] = 'K',
        [USE_BIND_OFF] = 'B',  [USE_SEAM] = 'M',     [USE_CARRIED] = 'W',  [USE_TAILS] = 'T',
        [USE_DUPLICATE] = 'D', [USE_SWATCH] = 'G',
    };

    return letters[use];
}

const char *words_grams(const struct page *page, double grams)
{
    return words_format(page, "%s" WORDS_TIE "g", measure(page, grams));
}

/* --- counts ------------------------------------------------------------------------- */

const char *words_percent(const struct page *page, double ratio)
{
    return words_format(page, "%s" WORDS_TIE "%%", words_decimal(page, 100.0 * ratio, 1));
}

const char *words_signed_percent(const struct page *page, double ratio)
{
    const char *percent = words_percent(page, ratio);

    if (percent[0] == '-' || strcmp(percent, "0" WORDS_TIE "%") == 0)
        return percent;
    return words_format(page, "+%s", percent);
}

const char *words_hours(const struct page *page, double hours)
{
    const double minutes_below = 1.45, minutes_step = 5.0, minutes_an_hour = 60.0, tenths_below = 9.95;
    double minutes = minutes_step * fmax(1.0, floor(hours * minutes_an_hour / minutes_step + 0.5));

    if (hours < minutes_below)
        return words_format(page, "about" WORDS_TIE "%d" WORDS_TIE "minutes", (int)minutes);
    return words_format(page, "about" WORDS_TIE "%s" WORDS_TIE "hours", words_decimal(page, hours, hours < tenths_below ? 1 : 0));
}

const char *words_grouped(const struct page *page, int64_t value)
{
    return say_grouped(page->work->arena, value);
}

const char *words_times(const struct page *page, int64_t n)
{
    if (n == 1)
        return "once";
    if (n == 2)
        return "twice";
    return words_format(page, "%" PRId64 WORDS_TIE "times", n);
}

void words_add_ordinal(struct text *text, int64_t n)
{
    static const char *const ending[] = {"th", "st", "nd", "rd"};
    bool teen = n % 100 >= 11 && n % 100 <= 13;

    text_digits(text, n);
    text_add(text, n % 10 <= 3 && !teen ? ending[n % 10] : "th");
}

const char *words_ordinal(const struct page *page, int64_t n)
{
    struct text text = text_create(page->work->arena);

    words_add_ordinal(&text, n);
    return text.bytes;
}

const char *words_count(const struct page *page, int64_t n, const char *one, const char *many)
{
    return words_format(page, "%s" WORDS_TIE "%s", words_grouped(page, n), n == 1 ? one : many);
}

const char *words_range(const struct page *page, int64_t from, int64_t to)
{
    if (from == to)
        return words_format(page, "%" PRId64, from);
    return words_format(page, "%" PRId64 "%s%" PRId64, from, page->style->utf8 ? "\u2013" : "-",
                        to);
}

const char *words_round(const struct page *page)
{
    return say_rounds(page->plan->round)->one;
}

const char *words_rounds(const struct page *page, int64_t n)
{
    const struct say_rounds *words = say_rounds(page->plan->round);

    return words_count(page, n, words->one, words->many);
}

const char *words_across(const struct page *page)
{
    return page->plan->round && page->plan->piece.cast_on.steek_sts == 0 ? "round" : "wide";
}

const char *words_pieces(const struct page *page)
{
    if (page->plan->make == 1)
        return "the piece";
    if (page->plan->make == 2)
        return "both pieces";
    return words_format(page, "all" WORDS_TIE "%d pieces", page->plan->make);
}

/* --- lists -------------------------------------------------------------------------- */

/* A column of the drawing (side stitches counted): "stitch 9", "side stitch 2 at the right". */
static const char *words_stitch(const struct page *page, const struct plan_band *band, int column)
{
    int right = band->right.ncols, repeat = band->drawn.ncols;

    if (column < right)
        return words_format(page, "side stitch" WORDS_TIE "%d at the right", column + 1);
    if (column >= right + repeat)
        return words_format(page, "side stitch" WORDS_TIE "%d at the left",
                            column - right - repeat + 1);
    return words_format(page,
                        band->side_sts > 0 ? "stitch" WORDS_TIE "%d of the repeat"
                                           : "stitch" WORDS_TIE "%d",
                        column - right + 1);
}

const char *words_row_stitch(const struct page *page, const struct plan_band *band, int column)
{
    int right = band->right.ncols, repeat = band->drawn.ncols;
    int between = repeat * band->repeats;

    if (!band->outer)
        return words_stitch(page, band, column);
    if (column < right || column >= right + between)
        return words_stitch(page, band, column < right ? column : column - between + repeat);
    if (band->repeats == 1)
        return words_stitch(page, band, column);
    return words_format(page, "stitch" WORDS_TIE "%d of repeat" WORDS_TIE "%d",
                        (column - right) % repeat + 1, (column - right) / repeat + 1);
}

const char *words_repeats_of(const struct page *page, const struct plan_band *band)
{
    const struct fit_remedy *remedy = band->remedy;

    if (!remedy || remedy->kind != FIT_PART_REPEATS || band->repeat_sts == remedy->repeat_sts)
        return words_format(page, "%s of" WORDS_TIE "%d",
                            words_count(page, band->repeats, "repeat", "repeats"), band->repeat_sts);
    return words_format(page, "%s of" WORDS_TIE "%d and %s",
                        words_count(page, remedy->repeats, "repeat", "repeats"), remedy->repeat_sts,
                        remedy->remake.over_plain
                            ? words_format(page, "%d plain", remedy->left_over)
                            : remedy->left_over == 1 ? "1 stitch of a part one"
                                                : words_format(page, "%d stitches of part ones",
                                                               remedy->left_over));
}

const char *words_crowding(const struct page *page, const struct plan_band *band)
{
    const struct plan_dents *dents = &band->dents;

    return words_format(page, "%s within %s of chart %s %d, %s.",
                        words_count(page, dents->most, "catch", "catches"),
                        words_length(page, dents->within_in), words_round(page), dents->row + 1,
                        words_stitch(page, band, dents->column));
}

const char *words_yarn(const struct page *page, int yarn)
{
    const struct plan_piece *piece = &page->plan->piece;

    return yarn >= 0 && yarn < piece->nyarns ? piece->yarns[yarn].name : "?";
}

const char *words_yarns(const struct page *page, const int *yarns, int nyarns)
{
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < nyarns; i++) {
        text_add(&text, say_link(i, nyarns));
        text_add(&text, words_yarn(page, yarns[i]));
    }
    return text.bytes;
}

/* Last of the numbers that follow numbers[i] one by one; two in a row are no range yet. */
static int range_end(const int *numbers, int count, int i)
{
    int end = i;

    while (end + 1 < count && numbers[end + 1] == numbers[end] + 1)
        end++;
    return end - i >= 2 ? end : i;
}

const char *words_numbers(const struct page *page, const int *numbers, int count)
{
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < count; i++) {
        int end = range_end(numbers, count, i);

        text_add(&text, i == 0 ? "" : say_link(end, count));
        text_add(&text, words_range(page, numbers[i], numbers[end]));
        i = end;
    }
    return text.bytes;
}

const char *words_places(const struct page *page, const int *places, int count)
{
    int *numbers = arena_alloc(page->work->arena, (size_t)count, sizeof *numbers);

    for (int i = 0; i < count; i++)
        numbers[i] = places[i] + 1;
    return words_numbers(page, numbers, count);
}

const char *words_clip(const struct page *page, const char *name, int columns)
{
    struct text text;
    int kept = 0;

    if (text_columns(name) <= columns)
        return name;
    text = text_create(page->work->arena);
    for (const char *c = name; *c; c++) {
        kept += ((unsigned char)*c & 0xC0) != 0x80;
        if (kept == columns)
            break;
        text_add_bytes(&text, c, 1);
    }
    text_add(&text, ".");
    return text.bytes;
}
