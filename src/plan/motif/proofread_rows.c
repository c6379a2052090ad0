/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Slips of a whole row, and what of the other doubts they explain.
 */
#include "base/tables.h"
#include "base/work.h"
#include "proofread_parts.h"

/* Is it a row that one of the slips changes, or that such a row goes to or comes from? */
static bool is_of_slip(const struct proof_chart *chart, int row)
{
    for (int i = 0; i < chart->nslips; i++) {
        const struct row_slip *slip = &chart->slips[i];
        int own = slip->row;

        if (slip->kind == ROW_MISSING || slip->kind == ROW_DOUBLED)
            return true; /* all rows of one side are moved */
        for (int k = 0; k <= (slip->kind == ROW_SWAPPED); k++, own++)
            if (row == own || symmetry_row(&slip->symmetry, row, slip->nrows) == own ||
                symmetry_row(&slip->symmetry, own, slip->nrows) == row)
                return true;
    }
    return false;
}

void proofread_rows(struct work *work, struct proof_chart *chart)
{
    struct row_slip_rule rule = {
        .breaks = (int)tables_value(work->tables, "proof_row_breaks"),
        .agreeing = (int)tables_value(work->tables, "proof_row_stitches"),
        .rows = (int)tables_value(work->tables, "proof_row_rows"),
        .rows_counted = (int)tables_value(work->tables, "proof_row_rows_counted"),
        .whole = (int)tables_value(work->tables, "proof_whole_times"),
    };
    bool explained = true;

    chart->nslips = row_slips(work, &chart->field, &rule, chart->slips);
    if (chart->nslips == 0)
        return;
    for (int i = 0; i < chart->nfaults; i++)
        explained = explained && is_of_slip(chart, chart->faults[i].row);
    if (explained)
        chart->nfaults = 0;
    chart->nholes = 0;
    chart->nstrays = 0;
}
