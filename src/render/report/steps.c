/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Cast on, shape, work: the steps in order; and the counts near the one chosen.
 */
#include <inttypes.h>
#include <string.h>

#include "report.h"

enum { STEP_WIDE = 38 };

/* Number, what to do, on the needle, rounds, height. */
static const struct page_column columns[] = {RIGHT(4), LEFT(6), RIGHT(49), RIGHT(59), RIGHT(80)};

static void put_steps_head(const struct page *page)
{
    bool rows = false;

    for (int i = 0; i < page->plan->piece.nsteps; i++)
        rows = rows || page->plan->piece.steps[i].rows > 0;
    page_row(page, columns, "", "", "needle", !rows ? "" : say_rounds(page->plan->round)->many,
             rows ? "height" : "");
}

static const char *cast_on_words(const struct page *page, const struct plan_step *step)
{
    static const char *const kinds[] = {
        [CAST_ON_LONG_TAIL] = ", long-tail",
        [CAST_ON_OTHER] = "",
        [CAST_ON_PROVISIONAL] = ", provisional, on waste yarn",
    };
    const struct plan_cast_on *cast_on = &page->plan->piece.cast_on;

    if (step->length_in > 0.0)
        return words_format(page, "Cast on %s in %s%s; leave a tail of %s.",
                            words_grouped(page, cast_on->stitches), words_yarn(page, step->yarn),
                            kinds[cast_on->kind], words_length(page, step->length_in));
    return words_format(page, "Cast on %s in %s%s.", words_grouped(page, cast_on->stitches),
                        words_yarn(page, step->yarn), kinds[cast_on->kind]);
}

/* Edge and steek stitches are part of the cast-on; told apart once, there. */
static const char *extra_words(const struct page *page)
{
    const struct plan_cast_on *cast_on = &page->plan->piece.cast_on;
    const char *steek = words_format(page, "%d steek stitches", cast_on->steek_sts);
    const char *edge = words_format(page, "%d edge stitches", cast_on->selvedge_sts);

    if (cast_on->steek_sts > 0 && cast_on->selvedge_sts > 0)
        return words_format(page, " Of these %s and %s.", steek, edge);
    if (cast_on->steek_sts > 0 || cast_on->selvedge_sts > 0)
        return words_format(page, " Of these %s.", cast_on->steek_sts > 0 ? steek : edge);
    return "";
}

/* At a steek, where the two edges of the rib are not alike. */
static const char *rib_ends_words(const struct page *page)
{
    const struct plan_cast_on *cast_on = &page->plan->piece.cast_on;

    if (cast_on->rib_even_sts == 0)
        return "";
    return words_format(page,
                        " From the steek on it opens with knit %d and ends with purl %d; to end as it "
                        "begins: rib stitches = %d.",
                        cast_on->rib_knit, cast_on->rib_purl, cast_on->rib_even_sts);
}

static const char *rib_words(const struct page *page, const struct plan_step *step)
{
    const struct plan_cast_on *cast_on = &page->plan->piece.cast_on;

    if (step->yarn2 >= 0)
        return words_format(page, "Rib: knit %d %s, purl %d %s.%s", cast_on->rib_knit,
                            words_yarn(page, step->yarn), cast_on->rib_purl,
                            words_yarn(page, step->yarn2), rib_ends_words(page));
    return words_format(page, "Rib: knit %d, purl %d in %s.%s", cast_on->rib_knit, cast_on->rib_purl,
                        words_yarn(page, step->yarn), rib_ends_words(page));
}

static const char *shape_words(const struct page *page, const struct plan_step *step)
{
    const char *verb = step->to_sts > step->from_sts ? "Increase" : "Decrease";
    const struct plan_cast_on *cast_on = &page->plan->piece.cast_on;
    const char *where = cast_on->selvedge_sts > 0 ? " between the edge stitches" : "";

    if (!step->shaping.line)
        return words_format(page, "%s to %d%s in %s.", verb, step->to_sts, where,
                            words_yarn(page, step->yarn));
    return words_format(page, "%s to %d%s in %s: %s. (%s)", verb, step->to_sts, where,
                        words_yarn(page, step->yarn), step->shaping.line,
                        step->shaping.sum ? words_tie(page, step->shaping.sum) : "");
}

static const char *band_words(const struct page *page, const struct plan_step *step)
{
    const struct plan_band *band = &page->plan->piece.bands[step->band];
    const char *rows = words_format(page, "chart %s %s", say_rounds(page->plan->round)->many,
                                    words_range(page, 1, band->rows));
    const char *upwards =
        band->upwards > 1 ? words_format(page, ", worked %s", words_times(page, band->upwards)) : "";

    return words_format(page, "Band %s: %s%s, %s.", step->name, rows, upwards,
                        words_repeats_of(page, band));
}

static const char *plain_words(const struct page *page, const struct plan_step *step)
{
    const char *start = *step->name ? words_format(page, "Part %s: plain", step->name) : "Plain";

    if (step->counted_otherwise)
        return words_format(page, "%s in %s, %s in all.", start, words_yarn(page, step->yarn),
                            words_count(page, step->stitches, "stitch", "stitches"));
    return words_format(page, "%s in %s, %s%s.", start, words_yarn(page, step->yarn),
                        words_rounds(page, step->rows), words_sewn(page, step->sewn_in));
}

const char *report_step(const struct page *page, const struct plan_step *step)
{
    switch (step->kind) {
    case STEP_CAST_ON:
        return words_format(page, "%s%s", cast_on_words(page, step), extra_words(page));
    case STEP_RIB:
        return rib_words(page, step);
    case STEP_SHAPE:
        return shape_words(page, step);
    case STEP_PLAIN:
        return plain_words(page, step);
    case STEP_BAND:
        return band_words(page, step);
    case STEP_BIND_OFF:
        break;
    }
    return words_format(page, "Bind off in %s%s.", words_yarn(page, step->yarn),
                        page->plan->bind_off == BIND_OFF_SEWN   ? ", sewn"
                        : page->plan->bind_off == BIND_OFF_CORD ? ", with a knitted cord"
                                                                : "");
}

/* The words wrap in a column of their own; the figures stand beside the first line. */
static void put_step(const struct page *page, int number, const char *words,
                     const struct plan_step *step)
{
    struct text folded = text_create(page->work->arena);
    const char *rest;
    bool rows = step && step->rows > 0;

    text_wrap(&folded, words, 0, 0, STEP_WIDE);
    rest = folded.bytes;
    for (bool first = true;; first = false) {
        int length = (int)strcspn(rest, "\n");
        const char *line = words_format(page, "%.*s", length, rest);

        if (first)
            page_row(page, columns, words_format(page, "%d", number), line,
                     step ? words_grouped(page, step->on_needle) : "",
                     rows ? words_range(page, step->first_row, step->first_row + step->rows - 1) : "",
                     step && step->rows > 1 ? words_length(page, step->height_in) : "");
        else
            page_row(page, columns, "", line);
        if (!rest[length])
            break;
        rest += length + 1;
    }
}

const char *report_sewn(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < piece->nyarns; i++) {
        const struct plan_yarn *yarn = &piece->yarns[i];

        if (yarn->over < 0 || yarn->duplicate_stitches == 0)
            continue;
        text_add(&text, text.length > 0 ? "; " : "Wash and dry, then duplicate stitch: ");
        text_addf(&text, "%s over %s, %s in %s", yarn->name, words_yarn(page, yarn->over),
                  words_count(page, yarn->duplicate_stitches, "stitch", "stitches"),
                  words_count(page, yarn->duplicate_spots, "spot", "spots"));
    }
    if (text.length > 0)
        text_add(&text, words_format(page, " in %s.", words_pieces(page)));
    return text.bytes;
}

void report_steps(const struct page *page)
{
    const struct plan_piece *piece = &page->plan->piece;
    const char *sewn = report_sewn(page);

    if (piece->nsteps == 0)
        return;
    page_heading(page, "CAST ON AND SHAPE",
                 "stitches on the needle after each step, and its own height");
    put_steps_head(page);
    for (int i = 0; i < piece->nsteps; i++)
        put_step(page, i + 1, report_step(page, &piece->steps[i]), &piece->steps[i]);
    if (*sewn)
        put_step(page, piece->nsteps + 1, sewn, NULL);
}

/* --- counts ------------------------------------------------------------------------- */

static const char *fits_words(const struct page *page, const struct plan_candidate *candidate)
{
    const struct plan_piece *piece = &page->plan->piece;
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < piece->nbands && i < 64; i++)
        if (candidate->fits_bands >> i & 1)
            text_addf(&text, "%s%s", text.length > 0 ? ", " : "", piece->bands[i].name);
    if (candidate->fits_rib && piece->cast_on.has_rib)
        text_addf(&text, "%srib", text.length > 0 ? ", " : "");
    return text.bytes;
}

/* Mark, stitches, what it comes out at, ease, what fits. */
enum { FITS_AT = 50 };
static const struct page_column count_columns[] = {LEFT(2), RIGHT(12), RIGHT(34), RIGHT(46), LEFT(FITS_AT)};

static void put_candidate(const struct page *page, const struct plan_candidate *candidate)
{
    page_row(page, count_columns, candidate->chosen ? ">" : "", words_grouped(page, candidate->stitches),
             words_length(page, candidate->finished_in), words_signed_percent(page, candidate->ease_ratio),
             words_clip(page, fits_words(page, candidate), page->style->width - FITS_AT));
}

void report_counts(const struct page *page)
{
    if (page->plan->ncandidates < 2)
        return;
    page_heading(page, "COUNTS NEAR YOUR MEASURE", "> marks the one planned");
    page_row(page, count_columns, "", "stitches", "comes out at", "ease", "fits whole");
    for (int i = 0; i < page->plan->ncandidates; i++)
        put_candidate(page, &page->plan->candidates[i]);
}
