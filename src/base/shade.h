/* SPDX-License-Identifier: GPL-3.0-or-later
 *
 * Colour as light: luminance, contrast, difference. Pure.
 */
#ifndef STRANDWISE_SHADE_H
#define STRANDWISE_SHADE_H

/* Relative luminance 0..1. Source: W3C, WCAG 2.x. Checked: test_shade. */
double shade_luminance(const unsigned char rgb[3]);
/* Contrast ratio 1..21 of two luminances. Source: W3C, WCAG 2.x. */
double shade_contrast(double luminance_a, double luminance_b);
/* sRGB (D65) to CIE L*, a*, b*. */
void shade_lab(const unsigned char rgb[3], double lab[3]);
/* CIEDE2000 difference, kL = kC = kH = 1. Source: Sharma, Wu & Dalal 2005. */
double shade_difference(const double lab_a[3], const double lab_b[3]);

#endif
