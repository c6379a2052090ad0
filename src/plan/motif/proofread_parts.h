/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by proofread*.c alone.
 */
#ifndef STRANDWISE_PROOFREAD_PARTS_H
#define STRANDWISE_PROOFREAD_PARTS_H

#include "proofread.h"

/* Each doubt as a note, with its place. (proofread_say.c) */
void proofread_say(struct work *work, const struct project *project, const struct proofreading *read);

/* The stitches that break a symmetry, of a pair the one that is likely the slip. Returned: how many.
 * (proofread_faults.c) */
int proofread_faults(struct work *work, const struct proof_chart *chart, const struct symmetry *broken,
                     const struct proof_fault **listed);

/* Slips of a whole row; what is explained by one is no fault of a stitch. (proofread_rows.c) */
void proofread_rows(struct work *work, struct proof_chart *chart);

#endif
