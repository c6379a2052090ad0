/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Shared by proofread*.c alone.
 */
#ifndef STRANDWISE_PROOFREAD_PARTS_H
#define STRANDWISE_PROOFREAD_PARTS_H

#include "proofread.h"

/* Each doubt as a note, with its place. (proofread_say.c) */
void proofread_say(struct work *work, const struct project *project, const struct proofreading *read);

#endif
