/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whether what she measured can be, goes together, and goes with the gauge.
 */
#include "loop_parts.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "base/arena.h"
#include "base/text.h"

/* --- what her measurements are called: in the plan no line stands beside it ------------------------- */

static bool is_entry(const struct swatch *swatch, enum loop_method method, int i)
{
    switch (method) {
    case LOOP_FROM_TWO_YARNS:
    case LOOP_FROM_PLAIN_ROW:
        return swatch->unravelled[i].row_sts > 0;
    case LOOP_FROM_MARKED:
        return swatch->marked[i].row_sts > 0;
    case LOOP_FROM_WEIGHT:
        return swatch->weight[i].rows > 0;
    case LOOP_FROM_BALL:
        return swatch->weighed[i].all_sts > 0;
    case LOOP_FROM_SEVERAL:
    case LOOP_FROM_GAUGE:
        break;
    }
    return false;
}

/* "2nd ", where it is not the only one of its key. */
static const char *which(const struct observed *from)
{
    static const char *const words[SWATCH_TIMES_MAX] = {"1st ", "2nd ", "3rd ", "4th ", "5th ",
                                                        "6th ", "7th ", "8th ", "9th "};
    int n = 0;

    for (int i = 0; i < SWATCH_TIMES_MAX; i++)
        n += is_entry(from->swatch, from->method, i);
    return n > 1 ? words[from->nth - 1] : "";
}

/* "the oat of the 2nd row unravelled (line 14)" */
static const char *measured_name(const struct measured *all, int observation)
{
    const struct project *project = all->builder->project;
    const struct observed *from = &all->from[observation];
    struct text name = text_create(all->builder->work->arena);

    if (from->method == LOOP_FROM_TWO_YARNS)
        text_addf(&name, "the %s of ", project->yarns[from->yarn].name);
    text_addf(&name, "the %s", which(from));
    if (from->method == LOOP_FROM_BALL)
        text_addf(&name, "ball of %s weighed", project->yarns[from->yarn].name);
    else
        text_add(&name, from->method == LOOP_FROM_MARKED   ? "marked length"
                        : from->method == LOOP_FROM_WEIGHT ? "swatch weight"
                                                           : "row unravelled");
    if (from->swatch == &project->swatch_plain)
        text_add(&name, " of the plain swatch");
    text_addf(&name, " (line %d)", from->at.line);
    return name.bytes;
}

static bool measured_by(const struct measured *all, bool tape)
{
    for (int i = 0; i < all->count; i++)
        if (all->list[i].by_tape == tape)
            return true;
    return false;
}

/* "row (line 14)", "rows", "rows and marked lengths", "weighings" */
static const char *measured_kind(const struct measured *all, bool tape)
{
    int entries = 0, marked = 0, line = 0;

    for (int i = 0; i < all->count; i++) {
        if (all->list[i].by_tape != tape || all->from[i].at.line == line)
            continue;
        line = all->from[i].at.line;
        entries++;
        marked += all->from[i].method == LOOP_FROM_MARKED;
    }
    if (entries == 1)
        return arena_printf(all->builder->work->arena, "%s (line %d)",
                            !tape ? "weighing" : marked ? "marked length" : "row", line);
    return !tape              ? "weighings"
           : marked == 0       ? "rows"
           : marked == entries ? "marked lengths"
                               : "rows and marked lengths";
}

/* As she typed it: "50 g, 400 m". */
static const char *measured_typed(const struct measured *all, struct place at)
{
    struct arena *arena = all->builder->work->arena;
    size_t length, from = 0, to;
    const char *line = source_line(at.source, at.line, &length);

    for (int i = 1; i < at.column && from < length; i++)
        from += text_character(line + from, length - from, NULL);
    to = from;
    for (int i = 0; i < at.width && to < length; i++)
        to += text_character(line + to, length - to, NULL);
    return arena_strndup(arena, line + from, to - from);
}

/* --- what cannot be ----------------------------------------------------------------------- */

static const char *measure_again(const struct measured *all)
{
    if (!measured_by(all, true))
        return "Weigh again, and check what the scale counts in, the stitches counted, and the ball's "
               "weight and length.";
    if (!measured_by(all, false))
        return "Measure both yarns again, pulled straight but not stretched, and check which is which.";
    return "Measure the yarns again, pulled straight but not stretched, and weigh again; check the "
           "stitches counted, and the ball's weight and length.";
}

/* --- one against another -------------------------------------------------------------------- */

/* "94 % more yarn", "5 times as much yarn", of seen for expected. */
static const char *off_words(const struct builder *builder, double ratio)
{
    const double many = 3.0;

    if (!(ratio > 0.0))
        return "far more yarn";
    if (ratio > many)
        return arena_printf(builder->work->arena, "%.0f times as much yarn", ratio);
    return arena_printf(builder->work->arena, "%.0f %% %s yarn", 100.0 * fabs(ratio - 1.0),
                        ratio > 1.0 ? "more" : "less");
}

/* The ball of the first weighing; of a swatch weighed, the first yarn that says its ball. */
static const struct yarn *yarn_of_scale(const struct measured *all, int *observation)
{
    const struct project *project = all->builder->project;

    for (*observation = 0; all->list[*observation].by_tape;)
        ++*observation;
    if (all->from[*observation].yarn >= 0)
        return &project->yarns[all->from[*observation].yarn];
    for (int i = 0; i < project->nyarns; i++)
        if (rational_is_value(project->yarns[i].ball.mass_g) && !project->yarns[i].duplicate_over.name)
            return &project->yarns[i];
    return project->yarns;
}

/* The band's length taken of twice or half its weight, near enough (our judgement) for nothing else. */
static bool is_of_another_weight(double ratio)
{
    const double near = 1.25, half = 0.5, twice = 2.0;

    return (ratio > half / near && ratio < half * near) || (ratio > twice / near && ratio < twice * near);
}

/* The ball band is behind all the weighings; a single one may be a slip of its own. */
static struct place place_of_kinds(const struct measured *all, double ratio)
{
    int first, weighings = 0;
    const struct yarn *yarn = yarn_of_scale(all, &first);

    for (int i = 0; i < all->count; i++)
        weighings += all->list[i].by_scale;
    return weighings > 1 || is_of_another_weight(ratio) ? yarn->ball.at : all->from[first].at;
}

static const char *what_of_kinds(const struct measured *all, double ratio)
{
    return arena_printf(all->builder->work->arena,
                        "Your %s and your %s disagree: by the scale there is %s in the stitches "
                        "than by the tape.",
                        measured_kind(all, true), measured_kind(all, false),
                        off_words(all->builder, 1.0 / ratio));
}

static const char *todo_of_kinds(const struct measured *all, double ratio, const char *then)
{
    int first;
    const struct yarn *yarn = yarn_of_scale(all, &first);
    double grams = rational_double(yarn->ball.mass_g);
    const char *band = measured_typed(all, yarn->ball.at);
    struct arena *arena = all->builder->work->arena;

    if (is_of_another_weight(ratio))
        return arena_printf(arena,
                            "Are weight and length right on the ball band of %s (%s)? Tape and "
                            "scale would agree if that were the length of %.4g g.%s",
                            yarn->name, band, ratio < 1.0 ? 2.0 * grams : grams / 2.0, then);
    return arena_printf(arena, "Are weight and length right on the ball band of %s (%s)?%s",
                        yarn->name, band, then);
}

/* The fit cannot bring tape and scale together but by bending ball or pulling further than they
 * may be out, and no single measurement left out would explain it better. */
static bool kinds_disagree(const struct loop_fit *fit)
{
    const double near = 1e-6;
    double limit = likely_nine_in_ten(1.0);

    return fit->kinds_told && (fit->ball_bent > limit || fit->pull_bent > limit) &&
           fit->kinds_drop >= (1.0 - near) * fit->worst_times * fit->worst_times;
}

bool judge_kinds_refused(const struct measured *all, const struct loop_fit *fit, bool impossible)
{
    struct builder *builder = all->builder;
    double refuse = builder_threshold(builder, "swatch_refuse_times");

    if (impossible) /* because they disagree */
        refuse = likely_nine_in_ten(1.0);
    if (!kinds_disagree(fit) || !(fit->kinds_times > refuse))
        return false;
    builder_fault(builder, DIAG_SWATCH_CONTRADICTS, place_of_kinds(all, fit->kinds_ratio),
                  what_of_kinds(all, fit->kinds_ratio),
                  todo_of_kinds(all, fit->kinds_ratio,
                                " Else weigh again, count the stitches again, and take out the line "
                                "you trust least."));
    return true;
}

static const char *what_of_worst(const struct measured *all, const struct loop_fit *fit)
{
    double seen_mm = all->list[fit->worst].length_mm;

    return arena_printf(all->builder->work->arena,
                        "The measurements of yarn do not go together: %s gave %s than the others "
                        "lead one to expect, more than tape and scale explain.",
                        measured_name(all, fit->worst),
                        off_words(all->builder, seen_mm / (seen_mm - fit->worst_off_mm)));
}

static void fault_worst(const struct measured *all, const struct loop_fit *fit)
{
    builder_fault(all->builder, DIAG_SWATCH_CONTRADICTS, all->from[fit->worst].at,
                  what_of_worst(all, fit),
                  "Look for a slip of the pen: the length, the weight, the stitches. Measure "
                  "again, or take out the line you trust least.");
}

void judge_unsolved(const struct measured *all, const struct loop_fit *fit, int status)
{
    struct arena *arena = all->builder->work->arena;
    double differ = builder_threshold(all->builder, "swatch_differ_chance");
    const char *what;

    if (fit->worst >= 0 && fit->chance < differ) { /* because they contradict each other */
        fault_worst(all, fit);
        return;
    }
    if (status >= 0)
        what = arena_printf(arena,
                            "By these %s the strands would be %.2f times as long as the stitches they "
                            "pass; 1.0 to 1.3 is usual.",
                            measured_by(all, true) ? "lengths" : "weights", fit->slack);
    else if (status == -1)
        what = "What was measured does not settle how much yarn is in a stitch.";
    else if (measured_by(all, true))
        what = "These lengths would need a stitch or a strand of no length at all.";
    else
        what = "What was weighed is too little yarn for these stitches and the strands behind them.";
    builder_fault(all->builder, DIAG_LOOP_UNSOLVED, all->from[0].at, what, measure_again(all));
}

static void doubt(struct builder *builder, enum loop_doubt why, double excess)
{
    struct plan_loop *loop = &builder->piece->loop;

    loop->doubt = why;
    loop->excess = fmax(loop->excess, excess);
}

static void caution_kinds(const struct measured *all, const struct loop_fit *fit, double differ)
{
    struct builder *builder = all->builder;
    double times = fit->kinds_times * fit->kinds_times;

    if (gsl_cdf_chisq_Q(times, 1.0) < differ || fit->chance < differ)
        doubt(builder, DOUBT_TOGETHER, fmax(times, loop_fit_excess(fit)));
    diag_add(builder->work->diagnostics, DIAG_SWATCH_KINDS, place_of_kinds(all, fit->kinds_ratio),
             what_of_kinds(all, fit->kinds_ratio),
             todo_of_kinds(all, fit->kinds_ratio,
                           builder->piece->loop.doubt == DOUBT_TOGETHER
                               ? " The plan takes them together and trusts them less. Weigh once more, "
                                 "and take out the line you trust least."
                               : " The plan takes them together."));
}

void judge_left_over(const struct measured *all, const struct loop_fit *fit)
{
    struct builder *builder = all->builder;
    double differ = builder_threshold(builder, "swatch_differ_chance");
    double refuse = builder_threshold(builder, "swatch_refuse_times");
    bool refused = fit->worst >= 0 && (fit->chi_square / fit->freedom > refuse * refuse ||
                                        (fit->kinds_told && fit->kinds_times > refuse));

    if (judge_kinds_refused(all, fit, refused))
        return;
    if (refused)
        fault_worst(all, fit);
    else if (kinds_disagree(fit))
        caution_kinds(all, fit, differ);
    else if (fit->worst >= 0 && fit->chance < differ) {
        doubt(builder, DOUBT_TOGETHER, loop_fit_excess(fit));
        diag_add(builder->work->diagnostics, DIAG_SWATCH_DIFFERS, all->from[fit->worst].at,
                 what_of_worst(all, fit),
                 "The plan takes them together and trusts them less. Measure once more, and take "
                 "out the line you trust least.");
    }
}

/* --- the gauge ------------------------------------------------------------------------------ */

static bool is_heavy(const struct measured *all, const struct given_weighed *ball)
{
    double heavy = builder_threshold(all->builder, "ball_heavy_ratio");
    const struct ball *band = &all->builder->project->yarns[ball->yarn.index].ball;

    return rational_double(ball->before_g) > heavy * rational_double(band->mass_g);
}

/* Two balls on the scale, or a slip of the pen: the weight is what is odd, not the stitch. */
static bool fault_heavy(const struct measured *all)
{
    struct builder *builder = all->builder;

    for (int i = 0; i < all->count; i++) {
        const struct given_weighed *ball = all->from[i].ball;
        const struct yarn *yarn;

        if (!ball || !is_heavy(all, ball))
            continue;
        yarn = &builder->project->yarns[ball->yarn.index];
        builder_fault(builder, DIAG_LOOP_UNSOLVED, all->from[i].at,
                      arena_printf(builder->work->arena,
                                   "The ball weighs more than its band says, %.4g g for %.4g g, and the "
                                   "%.4g g used of it are far too much %s for these stitches.",
                                   rational_double(ball->before_g), rational_double(yarn->ball.mass_g),
                                   rational_double(rational_sub(ball->before_g, ball->after_g)),
                                   yarn->name),
                      "Check both weights for a slip of the pen; weigh one ball, before and after.");
        return true;
    }
    return false;
}

static void fault_gauge(const struct measured *all, double loop_mm, double usual_mm)
{
    const double many = 3.0;
    struct builder *builder = all->builder;
    struct arena *arena = builder->work->arena;
    const char *usual = builder_fine_length(builder, usual_mm), *what;
    double ratio = loop_mm / usual_mm;

    if (fault_heavy(all))
        return;
    if (ratio > many)
        what = arena_printf(arena,
                            "That makes %.0f times as much yarn in a stitch as is usual at this gauge, "
                            "about %s.",
                            ratio, usual);
    else if (ratio < 1.0 / many)
        what = arena_printf(arena,
                            "That leaves next to no yarn for a stitch; at this gauge about %s is usual.",
                            usual);
    else
        what = arena_printf(arena,
                            "That makes %s of yarn in a stitch; at this gauge about %s is usual.",
                            builder_fine_length(builder, loop_mm), usual);
    builder_fault(builder, DIAG_LOOP_UNSOLVED, all->from[0].at, what,
                  measured_by(all, false)
                      ? "Check the weight and its unit, the number of stitches, and the ball's weight and "
                        "length."
                      : "Check the length and its unit, and the number of stitches.");
}

/* How far the stitch of a group is from the gauge's, in the errors of both, nine in ten. */
static double gauge_gap(const struct builder *builder, const struct loop_fit *fit, int group,
                        double usual_mm)
{
    const struct plan_loop *loop = &builder->piece->loop;
    double sd = sqrt(loop->excess * fit->covariance[group][group]);

    return fabs(log(fit->loop_mm[group] / usual_mm)) /
           hypot(likely_nine_in_ten(sd), loop->gauge_error_part);
}

/* The yarn whose stitch is farthest from the gauge's; -1: all are alike. */
static int farthest_yarn(const struct measured *all, const struct loop_fit *fit, const int *group_of,
                         double usual_mm)
{
    const struct builder *builder = all->builder;
    int farthest = -1;

    for (int i = 0; group_of && i < builder->project->nyarns; i++)
        if (group_of[i] >= 0 &&
            (farthest < 0 || gauge_gap(builder, fit, group_of[i], usual_mm) >
                                 gauge_gap(builder, fit, group_of[farthest], usual_mm)))
            farthest = i;
    return farthest;
}

static void caution_gauge(const struct measured *all, double loop_mm, double usual_mm, int yarn)
{
    struct builder *builder = all->builder;
    int first = 0;

    while (yarn >= 0 && all->from[first].yarn != yarn)
        first++;
    diag_add(builder->work->diagnostics, DIAG_LOOP_GAUGE, all->from[first].at,
             arena_printf(builder->work->arena,
                          "Measured, a stitch takes %s of %s; from the gauge alone it would be %s, "
                          "give or take %.0f %%.",
                          builder_fine_length(builder, loop_mm),
                          yarn < 0 ? "yarn" : builder->project->yarns[yarn].name,
                          builder_fine_length(builder, usual_mm),
                          100.0 * builder->piece->loop.gauge_error_part),
             measured_by(all, true)
                 ? "The plan goes by what you measured, and trusts it less. Measure once more, and check "
                   "the stitches counted."
                 : "The plan goes by what you weighed, and trusts it less. Weigh once more, and check the "
                   "stitches counted and the ball band.");
}

/* A measure that disagrees with the gauge by half is a slip of tape or scale; one that
 * disagrees by more than both errors is worth a look, and trusted less: two figures of one thing, so
 * its variance grows by their chi-square of one degree. */
void judge_gauge(const struct measured *all, const struct loop_fit *fit, const int *group_of,
                 const struct plan_gauge *gauge)
{
    const double least = 0.6, most = 1.6; /* of the gauge's stitch: beyond, a slip (our judgement) */
    struct builder *builder = all->builder;
    double usual_mm = loop_density_mm(builder, gauge);
    int yarn = farthest_yarn(all, fit, group_of, usual_mm);
    int group = yarn < 0 ? GROUP_STRANDED : group_of[yarn];
    double ratio = fit->loop_mm[group] / usual_mm;
    double gap = gauge_gap(builder, fit, group, usual_mm);
    double times = likely_nine_in_ten(gap); /* in standard errors */

    if (builder->failed)
        return;
    if (!(ratio > least && ratio < most)) {
        fault_gauge(all, fit->loop_mm[group], usual_mm);
        return;
    }
    if (!(gap > 1.0))
        return;
    doubt(builder, DOUBT_GAUGE, times * times);
    caution_gauge(all, fit->loop_mm[group], usual_mm, yarn);
}
