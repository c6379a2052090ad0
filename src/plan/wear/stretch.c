/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Will each band go over heel, head or hand: round by round, and what would let it through.
 */
#include "plan/builder.h"

#include <math.h>
#include <stdlib.h>

#include "base/arena.h"
#include "base/diag.h"
#include "model/wear/stretch.h"

/* A hair's breadth of binary fractions is not what stops a foot. */
static const double HAIR = 1e-9;

/* Rounds to nothing on a ruler of eighths. */
static const double UNSEEN_IN = 1.0 / 16.0;

/* What stitches and floats pull to: from the swatches that were pulled, else by the table.
 * number: builder_value(), or builder_threshold() where it only decides whether something is said. */
static void set_ratios_by(const struct builder *builder, struct plan_stretch *stretch,
                          double (*number)(const struct builder *, const char *))
{
    const struct given_pull *plain = &builder->project->swatch_plain.pulls;
    const struct given_pull *stranded = &builder->project->swatch.pulls;

    stretch->stitch_pulled = builder->project->swatch_plain.is_there && rational_is_value(plain->ratio);
    stretch->stitch_ratio = stretch->stitch_pulled ? rational_double(plain->ratio)
                                                   : number(builder, "stretch_stitch_ratio");
    stretch->float_pulled = rational_is_value(stranded->ratio);
    stretch->float_ratio =
        rational_is_value(stranded->ratio)
            ? stretch_float_ratio(stranded->own, stranded->all, stretch->stitch_ratio,
                                  rational_double(stranded->ratio))
            : builder->piece->loop.slack_ratio * number(builder, "stretch_yarn_ratio");
}

static void set_ratios(const struct builder *builder, struct plan_stretch *stretch)
{
    set_ratios_by(builder, stretch, builder_value);
}

/* Floats shorter than what they pass: then a band with few stitches of a yarn would pull to less than
 * its own width, and nothing is said of how far any of them pulls. */
static bool pull_cannot_be(const struct builder *builder)
{
    struct plan_stretch stretch = {0};

    if (!rational_is_value(builder->project->swatch.pulls.ratio))
        return false;
    set_ratios(builder, &stretch);
    return stretch.float_ratio < 1.0 - HAIR;
}

static struct plan_stretch_row pull_row(const struct plan_band *band, int row,
                                        const struct plan_stretch *stretch)
{
    int64_t count[GRID_YARNS_MAX];
    struct plan_stretch_row out = {.all = stretch_count_row(&band->knitted, row, count)};

    out.yarn = stretch_tightest(count, GRID_YARNS_MAX, stretch->stitch_ratio, stretch->float_ratio,
                                &out.ratio);
    out.own = out.yarn >= 0 ? count[out.yarn] : out.all;
    return out;
}

static const struct given_length *must_pass_of(const struct builder *builder, const struct plan_band *band)
{
    const struct part *part = &builder->project->parts[band->part];

    return rational_is_value(part->must_pass.in) ? &part->must_pass : &builder->project->must_pass;
}

double plan_stretch_must_in(const struct builder *builder, const struct plan_band *band)
{
    const struct given_length *must = must_pass_of(builder, band);

    return rational_is_value(must->in) && !pull_cannot_be(builder) ? rational_double(must->in) : 0.0;
}

void plan_stretch_ask(const struct builder *builder, const struct plan_band *band,
                      struct fit_question *question)
{
    struct plan_stretch stretch = {.must_in = plan_stretch_must_in(builder, band)};

    if (!(stretch.must_in > 0.0))
        return;
    set_ratios(builder, &stretch);
    question->must_in = stretch.must_in;
    question->stitch_ratio = stretch.stitch_ratio;
    question->float_ratio = stretch.float_ratio;
}

int64_t plan_stretch_least_sts(const struct builder *builder, const struct plan_band *band)
{
    struct plan_stretch stretch = {.must_in = plan_stretch_must_in(builder, band)};
    double ratio;

    if (!(stretch.must_in > 0.0))
        return 0;
    set_ratios(builder, &stretch);
    ratio = stretch_grid_ratio(&band->knitted, stretch.stitch_ratio, stretch.float_ratio);
    return (int64_t)ceil(stretch_stitches(stretch.must_in, builder->piece->gauge.per_in, ratio) *
                         (1.0 - HAIR));
}

/* On a ruler of eighths. */
static bool seems_equal(double a_in, double b_in)
{
    return fabs(a_in - b_in) < UNSEEN_IN || llround(8.0 * a_in) == llround(8.0 * b_in);
}

/* --- rounds that pull alike ---------------------------------------------------------------- */

static bool same_kind(const struct plan_stretch_row *a, const struct plan_stretch_row *b)
{
    return a->yarn == b->yarn && a->all == b->all && (a->own == b->own || a->yarn < 0);
}

static int tighter_first(const void *a, const void *b)
{
    const struct plan_stretch_kind *x = a, *y = b;

    if (x->row->pulls_to_in < y->row->pulls_to_in)
        return -1;
    if (x->row->pulls_to_in > y->row->pulls_to_in)
        return 1;
    return x->numbers[0] < y->numbers[0] ? -1 : 1;
}

static void set_kinds(struct builder *builder, const struct plan_band *band, struct plan_stretch *stretch)
{
    struct arena *arena = builder->work->arena;
    struct plan_stretch_kind *kinds = arena_alloc(arena, (size_t)band->rows, sizeof *kinds);
    int *stopping = arena_alloc(arena, (size_t)band->rows, sizeof *stopping), nstopping = 0, n = 0;

    for (int r = 0; r < band->rows; r++) {
        int k = 0;

        while (k < n && !same_kind(kinds[k].row, &stretch->rows[r]))
            k++;
        if (k == n)
            kinds[n++] = (struct plan_stretch_kind){
                &stretch->rows[r], arena_alloc(arena, (size_t)(band->rows - r), sizeof *kinds->numbers), 0};
        kinds[k].numbers[kinds[k].count++] = r + 1;
        if (!stretch->rows[r].passes)
            stopping[nstopping++] = r + 1;
    }
    qsort(kinds, (size_t)n, sizeof *kinds, tighter_first);
    stretch->kinds = kinds;
    stretch->nkinds = n;
    stretch->stopping_rows = stopping;
}

static void pull_rows(struct builder *builder, const struct plan_band *band,
                      struct plan_stretch *stretch)
{
    struct plan_stretch_row *rows =
        arena_alloc(builder->work->arena, (size_t)band->rows, sizeof *rows);

    for (int r = 0; r < band->rows; r++) {
        struct plan_stretch_row *row = &rows[r];

        *row = pull_row(band, r, stretch);
        row->pulls_to_in = band->finished_in * row->ratio;
        row->passes = stretch_reaches(row->pulls_to_in, stretch->must_in);
        row->just_short = !row->passes && seems_equal(row->pulls_to_in, stretch->must_in);
        stretch->stopping += !row->passes;
        if (row->ratio < rows[stretch->tightest].ratio)
            stretch->tightest = r;
    }
    stretch->rows = rows;
    set_kinds(builder, band, stretch);
    stretch->pulls_to_in = rows[stretch->tightest].pulls_to_in;
    stretch->spare_in = stretch->pulls_to_in - stretch->must_in;
    stretch->passes = stretch->stopping == 0;
    stretch->short_in = stretch->passes ? 0.0 : -stretch->spare_in;
    stretch->just_short = rows[stretch->tightest].just_short;
    stretch->close = stretch->passes && stretch->spare_in <
                                            builder_threshold(builder, "stretch_close_ratio") *
                                                stretch->must_in;
}

/* --- what would let it through ----------------------------------------------------------- */

static void more_stitches(const struct builder *builder, const struct plan_band *band,
                          struct plan_stretch *stretch)
{
    double per_in = builder->piece->gauge.per_in;
    double repeats;

    stretch->need_sts =
        stretch_stitches(stretch->must_in, per_in, stretch->rows[stretch->tightest].ratio);
    repeats = ceil(stretch->need_sts / band->repeat_sts * (1.0 - HAIR));
    if (repeats * band->repeat_sts > 1e6)
        return;
    stretch->need_repeats = (int)repeats;
    stretch->need_stitches = (int64_t)stretch->need_repeats * band->repeat_sts;
    stretch->need_in = repeats * band->repeat_sts / per_in;
}

/* Floats so loose that the tightest row passes; of no use where its stitches do not reach so far. */
static void looser_floats(const struct builder *builder, const struct plan_band *band,
                          struct plan_stretch *stretch)
{
    const struct plan_stretch_row *row = &stretch->rows[stretch->tightest];
    double ratio = stretch->must_in / band->finished_in;

    if (row->yarn < 0 || ratio > stretch->stitch_ratio)
        return;
    stretch->loosen = true;
    stretch->loosen_float_ratio =
        stretch_float_ratio(row->own, row->all, stretch->stitch_ratio, ratio);
    stretch->loosen_slack_ratio =
        stretch->loosen_float_ratio / builder_value(builder, "stretch_yarn_ratio");
    stretch->loosen_loops =
        stretch->loosen_slack_ratio > builder_threshold(builder, "stretch_slack_most_ratio");
}

static void note_sewn(struct plan_stretch *stretch, int yarn, int over)
{
    const int none_yet = -2, several = -1;

    stretch->sew_yarn = stretch->sew_yarn == none_yet || stretch->sew_yarn == yarn ? yarn : several;
    stretch->sew_over = stretch->sew_over == none_yet || stretch->sew_over == over ? over : several;
}

/* The scarce yarns of a row sewn on over the commonest, the scarcest first, until it passes.
 * Returned: stitches of one repeat so sewn; 0: that does not do. */
static int64_t sew_row(struct plan_stretch *stretch, const struct plan_band *band, int row,
                       double share_most)
{
    int64_t count[GRID_YARNS_MAX], all = stretch_count_row(&band->knitted, row, count), sewn = 0;

    for (;;) {
        double ratio;
        int common = 0, yarn = stretch_tightest(count, GRID_YARNS_MAX, stretch->stitch_ratio,
                                                stretch->float_ratio, &ratio);

        if (stretch_reaches(band->finished_in * ratio, stretch->must_in))
            return sewn;
        if (yarn < 0 || (double)count[yarn] > share_most * (double)all)
            return 0;
        for (int i = 0; i < GRID_YARNS_MAX; i++)
            if (count[i] > count[common])
                common = i;
        if (common == yarn)
            return 0;
        note_sewn(stretch, yarn, common);
        sewn += count[yarn];
        count[common] += count[yarn];
        count[yarn] = 0;
    }
}

static void sew_tips(const struct builder *builder, const struct plan_band *band,
                     struct plan_stretch *stretch)
{
    double share_most = builder_threshold(builder, "stretch_sew_ratio");
    int64_t sts = 0;

    stretch->sew_yarn = stretch->sew_over = -2;
    for (int r = 0; r < band->rows; r++) {
        int64_t sewn;

        if (stretch->rows[r].passes)
            continue;
        sewn = sew_row(stretch, band, r, share_most);
        if (sewn == 0)
            return;
        sts += sewn;
    }
    stretch->sew_sts = sts * band->repeats * band->upwards;
    stretch->sew_rows = stretch->stopping;
}

static void larger_needle(const struct builder *builder, const struct plan_band *band,
                          struct plan_stretch *stretch)
{
    double per_in = builder->piece->gauge.per_in;

    stretch->needle_per_in =
        band->stitches * stretch->rows[stretch->tightest].ratio / stretch->must_in;
    stretch->needle_part = stretch->needle_per_in / per_in - 1.0;
    stretch->needle_near =
        -stretch->needle_part <= builder_threshold(builder, "needle_fit_ratio") * (1.0 + HAIR);
}

/* --- said --------------------------------------------------------------------------------- */

static void caution(const struct builder *builder, const struct plan_band *band,
                    const struct plan_stretch *stretch, struct place at)
{
    if (builder->try_at || stretch->passes)
        return;
    diag_add(builder->work->diagnostics, DIAG_WILL_NOT_PASS, at,
             arena_printf(builder->work->arena,
                          "Band %s is %s round and pulls to %s %s: it will not pass %s. Round %d "
                          "of the chart is the tightest.",
                          band->name, builder_length(builder, band->finished_in),
                          stretch->just_short ? "just under" : "about",
                          builder_length(builder, stretch->just_short ? stretch->must_in
                                                                      : stretch->pulls_to_in),
                          builder_length(builder, stretch->must_in),
                          stretch->tightest + 1),
             stretch->float_pulled
                 ? "What would let it through is in the plan, under its band."
                 : arena_printf(builder->work->arena,
                                "What would let it through is in the plan, under its band. This is a "
                                "model: pull a stranded swatch and write what it gave, pulls = %s.",
                                builder_in_cm(builder) ? "10 cm to 13 cm" : "4 in to 5.3 in"));
}

static const struct plan_stretch *stretch_of(struct builder *builder, const struct plan_band *band)
{
    const struct given_length *must = must_pass_of(builder, band);
    struct plan_stretch *stretch;

    if (!rational_is_value(must->in) || band->rows == 0 || pull_cannot_be(builder))
        return NULL;
    stretch = arena_alloc(builder->work->arena, 1, sizeof *stretch);
    stretch->must_in = plan_stretch_must_in(builder, band);
    set_ratios(builder, stretch);
    pull_rows(builder, band, stretch);
    if (!stretch->passes) {
        more_stitches(builder, band, stretch);
        looser_floats(builder, band, stretch);
        sew_tips(builder, band, stretch);
        larger_needle(builder, band, stretch);
    }
    caution(builder, band, stretch, must->at);
    return stretch;
}

/* Made smaller than its measure, with nothing else that it must pass. A steek is cut open. */
static bool is_snug(const struct builder *builder, const struct plan_band *band)
{
    const struct given_ease *ease = &builder->project->parts[band->part].ease;

    return !rational_is_value(must_pass_of(builder, band)->in) && !builder_is_open(builder) && band->has_target &&
           rational_is_value(ease->value) && rational_sign(ease->value) < 0;
}

/* So much smaller that it does not even pull to its measure. */
static void caution_snug(const struct builder *builder, const struct plan_band *band)
{
    struct plan_stretch stretch = {0};
    double ratio, most_percent;

    if (builder->try_at || !is_snug(builder, band) || pull_cannot_be(builder))
        return;
    set_ratios_by(builder, &stretch, builder_threshold);
    ratio = stretch_grid_ratio(&band->knitted, stretch.stitch_ratio, stretch.float_ratio);
    if (stretch_reaches(band->finished_in * ratio, band->measure_in))
        return;
    most_percent = floor(100.0 * (1.0 - 1.0 / ratio));
    diag_add(builder->work->diagnostics, DIAG_WILL_NOT_PASS, builder->project->parts[band->part].ease.at,
             arena_printf(builder->work->arena,
                          "Band %s is %s round and pulls to about %s, less than the %s of its measure: "
                          "with this ease it will not go on.",
                          band->name, builder_length(builder, band->finished_in),
                          builder_length(builder, band->finished_in * ratio),
                          builder_length(builder, band->measure_in)),
             arena_printf(builder->work->arena,
                          "%s can still be pulled on; -5 %% to -10 %% is snug. It is a "
                          "model: pull a stranded swatch and write what it gave, pulls = %s.",
                          most_percent >= 1.0
                              ? arena_printf(builder->work->arena, "An ease of -%.0f %%", most_percent)
                              : "Only a band without such an ease",
                          builder_in_cm(builder) ? "10 cm to 13 cm" : "4 in to 5.3 in"));
}

/* Floats that would have to be shorter than what they pass. */
static void caution_tight(const struct builder *builder)
{
    const struct given_pull *pulls = &builder->project->swatch.pulls;
    bool must = false;

    for (int i = 0; i < builder->piece->nbands; i++)
        must = must || rational_is_value(must_pass_of(builder, &builder->piece->bands[i])->in) ||
               is_snug(builder, &builder->piece->bands[i]);
    if (builder->try_at || !must || !pull_cannot_be(builder))
        return;
    diag_add(builder->work->diagnostics, DIAG_PULL_TIGHT, pulls->at,
             "By this pull the floats are shorter than the stitches they pass: that cannot well be, and "
             "this plan does not say what passes.",
             arena_printf(builder->work->arena,
                          "Pull the swatch as wide as it goes without force, and write the stitches "
                          "of the scarcer yarn in the row you pulled, of all: pulls = %s, 2 of 12. "
                          "If it is so, the floats are drawn tight, and nothing will pass that is wider than "
                          "the band: knit another swatch, the stitches spread on the needle.",
                          builder_in_cm(builder) ? "10 cm to 12 cm" : "4 in to 4.8 in"));
}

/* Floats that would be loops, going by the pull. */
static void caution_wide(const struct builder *builder)
{
    const struct given_pull *pulls = &builder->project->swatch.pulls;
    double most = builder_threshold(builder, "stretch_slack_most_ratio") *
                  builder_threshold(builder, "stretch_yarn_ratio");

    if (builder->try_at || !rational_is_value(pulls->ratio))
        return;
    for (int i = 0; i < builder->piece->nbands; i++) {
        const struct plan_stretch *stretch = builder->piece->bands[i].stretch;

        if (!stretch || stretch->float_ratio <= most)
            continue;
        diag_add(builder->work->diagnostics, DIAG_PULL_WIDE, pulls->at,
                 arena_printf(builder->work->arena,
                              "By this pull floats give %.1f times what they pass: over %.2f they are "
                              "loops.",
                              stretch->float_ratio, most),
                 "Pull the swatch without force, along its tightest stranded row, between the same two "
                 "stitches. If it is so, the floats are so loose that they catch fingers and toes: knit "
                 "a swatch with shorter ones.");
        return;
    }
}

void plan_stretch_set(struct builder *builder)
{
    struct plan_piece *piece = builder->piece;

    piece->tightest_band = NULL;
    for (int i = 0; i < piece->nbands; i++) {
        struct plan_band *band = &piece->bands[i];

        band->stretch = stretch_of(builder, band);
        caution_snug(builder, band);
        if (band->stretch && (!piece->tightest_band ||
                              band->stretch->spare_in < piece->tightest_band->stretch->spare_in))
            piece->tightest_band = band;
    }
    caution_tight(builder);
    caution_wide(builder);
}
