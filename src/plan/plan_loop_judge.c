/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Whether what she measured can be, goes together, and goes with the gauge.
 */
#include "loop_parts.h"

#include <math.h>

#include "base/arena.h"

void judge_unsolved(const struct measured *all, const struct loop_fit *fit, int status)
{
    struct builder *builder = all->builder;

    builder_fault(
        builder, DIAG_LOOP_UNSOLVED, all->at[0],
        status >= 0 ? arena_printf(builder->work->arena,
                                "These lengths would make the strands %.2f times as long as the "
                                "stitches they pass; 1.0 to 1.3 is usual.",
                                fit->slack)
                 : "These lengths would need a stitch or a strand of no length at all.",
        "Measure both yarns again, pulled straight but not stretched, and check which is which.");
}

/* A measure that disagrees with the gauge by half is a slip of tape or scale; one that
 * disagrees by more than both errors is worth a look. */
void judge_gauge(struct builder *builder, struct place at, const struct plan_gauge *gauge)
{
    const struct plan_loop *loop = &builder->piece->loop;
    struct arena *arena = builder->work->arena;
    double usual_mm = loop_density_mm(builder, gauge);
    double ratio = loop->loop_mm / usual_mm;

    if (builder->failed)
        return;
    if (!(ratio > 0.6 && ratio < 1.6))
        builder_fault(builder, DIAG_LOOP_UNSOLVED, at,
                      arena_printf(arena,
                                   "That makes %.1f mm of yarn in a stitch; at this gauge about "
                                   "%.1f mm is usual.",
                                   loop->loop_mm, usual_mm),
                      "Check the length or weight, its unit, and the number of stitches.");
    else if (fabs(log(ratio)) > hypot(loop->error_part, loop->gauge_error_part))
        diag_add(builder->work->diagnostics, DIAG_LOOP_GAUGE, at,
                 arena_printf(arena,
                              "Measured, a stitch takes %.1f mm of yarn; from the gauge alone it "
                              "would be %.1f mm, give or take %.0f %%.",
                              loop->loop_mm, usual_mm, 100.0 * loop->gauge_error_part),
                 "The plan goes by what you measured. Measure once more, and check the stitches "
                 "counted.");
}

void judge_left_over(struct measured *all, const struct loop_fit *fit)
{
    struct builder *builder = all->builder;
    double differ = builder_threshold(builder, "swatch_differ_chance");
    double refuse = builder_threshold(builder, "swatch_refuse_times");
    const char *what;

    if (builder->failed || !(fit->chance < differ))
        return;
    what = arena_printf(builder->work->arena,
                        "The measurements of yarn do not go together: this one gave %.0f %% %s yarn "
                        "than all of them would lead one to expect, more than tape and scale "
                        "explain.",
                        100.0 * fabs(fit->worst_off_mm) / all->list[fit->worst].length_mm,
                        fit->worst_off_mm > 0 ? "more" : "less");
    if (fit->chi_square / fit->freedom > refuse * refuse)
        builder_fault(builder, DIAG_SWATCH_CONTRADICTS, all->at[fit->worst], what,
                      "Look for a slip of the pen: the length, the weight, the stitches. Measure "
                      "again, or take out the line you trust least.");
    else
        diag_add(builder->work->diagnostics, DIAG_SWATCH_DIFFERS, all->at[fit->worst], what,
                 "The plan takes them together and trusts them less. Measure once more, and take "
                 "out the line you trust least.");
    builder->piece->loop.excess = loop_fit_excess(fit);
}
