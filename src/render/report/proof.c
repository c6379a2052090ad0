/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * The charts proof-read, as `strandwise check` says it: also what is well.
 */
#include "base/arena.h"
#include "proof.h"
#include "words/words.h"

static const char *one_or_none(const struct page *page, int n, const char *one, const char *many)
{
    return n == 0 ? "none" : words_format(page, "%s, noted", words_count(page, n, one, many));
}

static const char *off_words(const struct page *page, const struct proof_chart *chart,
                             const struct symmetry *symmetry)
{
    return words_format(page, "%s off %s", words_count(page, symmetry->breaks, "stitch", "stitches"),
                        proof_symmetry_words(page->work, chart, page->plan->round, symmetry));
}

/* ": round 5, stitch 9 is unlike stitch 5; round 7, stitch 2 is unlike the ground beyond the edge" */
static const char *off_places(const struct page *page, const struct proof_chart *chart)
{
    struct text text = text_create(page->work->arena);

    for (int i = 0; i < chart->noff; i++) {
        const struct proof_fault *fault = &chart->off[i];

        text_add(&text, words_format(page, "%s %s %d, stitch %d is unlike ", i == 0 ? ":" : ";",
                                     words_round(page), fault->row + 1, fault->column + 1));
        text_add(&text, fault->partner_row < 0 ? "the ground beyond the edge"
                                               : words_format(page, "stitch %d", fault->partner_column + 1));
    }
    return text.bytes;
}

/* "the mirror about stitch 7, the half-turn"; "1 stitch off the half-turn" */
static const char *symmetries(const struct page *page, const struct proof_chart *chart,
                              const bool *which, bool missed)
{
    struct text text = text_create(page->work->arena);

    for (int kind = 0; kind < SYMMETRY_KINDS; kind++) {
        const struct symmetry *symmetry = &chart->symmetries.of[kind];

        if (!which[kind])
            continue;
        text_add(&text, text.length > 0 ? ", " : "");
        text_add(&text, missed ? off_words(page, chart, symmetry)
                               : proof_symmetry_words(page->work, chart, page->plan->round, symmetry));
    }
    return text.length > 0 ? text.bytes : NULL;
}

static void put_symmetry(const struct page *page, const struct proof_chart *chart)
{
    const char *kept = symmetries(page, chart, chart->symmetries.holds, false);
    const char *missed = symmetries(page, chart, chart->symmetries.nearly, true);
    const char *given_up = chart->symmetries.given_up ? "; too large to be searched for all" : "";

    if (chart->has_mirror_off) {
        const char *far = words_format(page, "%s%s", off_words(page, chart, &chart->mirror_off),
                                       chart->noff > 0 ? off_places(page, chart)
                                       : chart->off_row >= 0
                                           ? words_format(page, ", all in %s %d", words_round(page), chart->off_row + 1)
                                           : "");

        missed = missed ? words_format(page, "%s; %s", missed, far) : far;
    }
    if (chart->too_large)
        page_entry(page, "symmetry", "not looked for in a chart of more than a million stitches");
    else
        page_entryf(page, "symmetry", "%s%s%s%s%s", kept ? "keeps " : "", kept ? kept : "",
                    kept && missed ? "; " : "",
                    missed ? missed
                    : kept ? ""
                           : "none",
                    given_up);
}

static void put_joins(const struct page *page, const struct proof_chart *chart)
{
    int sideways = chart->nrows + chart->ngaps;

    page_entryf(page, "joins", "%s%s",
                !chart->field.ring ? "one repeat: nothing to meet sideways"
                : sideways == 0    ? "nothing breaks at the join of the repeat alone"
                                   : "something breaks at the join of the repeat, noted",
                !chart->field.ring_rows ? ""
                : chart->ngaps_up == 0  ? ", nor where it is worked again upwards"
                                        : "; a line breaks where it is worked again upwards");
}

/* One that has no partner is noted as that. */
static void put_strays(const struct page *page, const struct proof_chart *chart)
{
    const struct proof_fault *fault = chart->faults;
    int single = 0;

    for (int i = 0; i < chart->nfaults; i++)
        for (int k = 0; k < chart->nspecks; k++)
            single += fault[i].likely && fault[i].row == chart->specks[k].row &&
                      fault[i].column == chart->specks[k].column;
    if (single > 0)
        page_entryf(page, "strays", "%s, noted as having no partner",
                    words_count(page, single, "single stitch", "single stitches"));
    else
        page_entry(page, "strays", one_or_none(page, chart->nstrays, "single stitch", "single stitches"));
    if (chart->nslips > 0)
        page_entryf(page, say_rounds(page->plan->round)->many, "a whole %s breaks a symmetry, noted",
                    words_round(page));
    if (chart->nholes > 0)
        page_entryf(page, "seeding", "%s left out, noted", words_count(page, chart->nholes, "stitch", "stitches"));
}

static void put_chart(const struct page *page, const struct proof_chart *chart)
{
    page_gap(page);
    page_sayf(page, 2, "%s, %s by %s", chart->name,
              words_count(page, chart->field.grid->ncols, "stitch", "stitches"),
              words_rounds(page, chart->field.grid->nrows));
    if (!chart->whole || chart->chart->nbeside == 0) {
        put_symmetry(page, chart);
        if (!chart->too_large)
            put_strays(page, chart);
    }
    if (!chart->whole)
        return;
    put_joins(page, chart);
    if (chart->nthree > 0)
        page_entryf(page, "colours", "three or more in %s%s %s", words_round(page), chart->nthree == 1 ? "" : "s",
                    words_places(page, chart->three, chart->nthree));
    else
        page_entryf(page, "colours", "two at most in every %s", words_round(page));
}

/* It was cautioned against: they are the only two of a row, or one is mostly outlined by the other. */
static bool stands_out(const struct proof_shades *shades)
{
    return shades->close && (shades->alone_row >= 0 || shades->beside_row >= 0);
}

static void put_shades(const struct page *page, const struct project *project,
                       const struct proofreading *read)
{
    if (read->nshades > 0)
        page_gap(page);
    for (int i = 0; i < read->nshades; i++) {
        const struct proof_shades *shades = &read->shades[i];

        page_entryf(page, i == 0 ? "lightness" : "", "%s: %s and %s are %s" WORDS_TIE "%% apart: %s",
                    project->parts[shades->part].name, project->yarns[shades->yarn].name,
                    project->yarns[shades->other].name, words_decimal(page, 100.0 * shades->apart, 0),
                    stands_out(shades) ? "in grey they read as one"
                    : shades->close    ? "in grey they would read as one, but mostly other colours part them"
                    : shades->soft     ? "soft"
                                       : "clear");
    }
}

void render_proofreading(struct work *work, const struct plan *plan, const struct project *project,
                         const struct proofreading *read, const struct words_style *style,
                         struct text *out)
{
    struct page page = {work, plan, style, out};

    page_heading(&page, "THE CHARTS PROOF-READ", NULL);
    for (int i = 0; i < read->ncharts; i++)
        put_chart(&page, &read->charts[i]);
    put_shades(&page, project, read);
    page_gap(&page);
}
