/* Writes data/evidence/hmm_values.csv with the General Hidden Markov Model library (Debian's
 * libghmm-dev 0.9~rc3): filtered chances and log likelihoods of drawn sequences under one model, and
 * the model that its Baum-Welch re-estimation ends in.
 *     gcc hmm_values.c -lghmm -lm -o hmm_values && ./hmm_values > ../data/evidence/hmm_values.csv
 * States: 0 known, 1 unknown. Symbols: 0 secure, 1 shaky, 2 stuck. One mark a day, so that a step is
 * the learn step of a mark followed by one day's forgetting. */
#include <ghmm/foba.h>
#include <ghmm/ghmm.h>
#include <ghmm/model.h>
#include <ghmm/reestimate.h>
#include <ghmm/sequence.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

enum { sequences = 400, length = 12 };

static const double prior = 0.35, learn = 0.2, forget = 0.08;
static const double known[3] = {0.82, 0.12, 0.06}, unknown[3] = {0.15, 0.3, 0.55};

/* Numerical Recipes' 64-bit generator constants; the seed is part of the fixture. */
static uint64_t state = 20261125;
static double unit(void) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(state >> 11) / 9007199254740992.0;
}

static int symbol(const double chance[3]) {
    const double u = unit();
    return u < chance[0] ? 0 : u < chance[0] + chance[1] ? 1 : 2;
}

static void fill(ghmm_dmodel* m, double pi, const double a[2][2], const double b[2][3]) {
    for (int i = 0; i < 2; ++i) {
        m->s[i].in_states = m->s[i].out_states = 2;
        m->s[i].pi = i == 0 ? pi : 1 - pi;
        for (int x = 0; x < 3; ++x) m->s[i].b[x] = b[i][x];
        for (int j = 0; j < 2; ++j) {
            m->s[i].out_id[j] = j;
            m->s[i].out_a[j] = a[i][j];
            m->s[i].in_id[j] = j;
            m->s[i].in_a[j] = a[j][i];
        }
    }
}

int main(void) {
    int degrees[2] = {2, 2};
    ghmm_dmodel* m = ghmm_dmodel_calloc(3, 2, GHMM_kDiscreteHMM, degrees, degrees);
    m->prior = -1;
    const double keep = 1 - forget;
    const double a[2][2] = {{keep, 1 - keep}, {learn * keep, 1 - learn * keep}};
    const double b[2][3] = {{known[0], known[1], known[2]}, {unknown[0], unknown[1], unknown[2]}};
    fill(m, prior, a, b);
    printf("kind,marks,known,log_likelihood,prior,learn,forget,known_secure,known_shaky,"
           "unknown_secure,unknown_shaky\n");
    printf("model,,,,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g\n", prior, learn, forget, known[0],
           known[1], unknown[0], unknown[1]);
    ghmm_dseq* all = ghmm_dseq_calloc(sequences);
    for (int i = 0; i < sequences; ++i) {
        all->seq[i] = malloc(length * sizeof(int));
        all->seq_len[i] = length;
        int has = unit() < prior;
        double* alpha[length];
        double scale[length], logp;
        for (int t = 0; t < length; ++t) {
            alpha[t] = calloc(2, sizeof(double));
            all->seq[i][t] = symbol(has ? known : unknown);
            has = unit() < a[has ? 0 : 1][0];
        }
        if (ghmm_dmodel_forward(m, all->seq[i], length, alpha, scale, &logp) != 0) return 1;
        const double* last = alpha[length - 1];
        printf("filter,");
        for (int t = 0; t < length; ++t) putchar("012"[all->seq[i][t]]);
        printf(",%.17g,%.17g,,,,,,,\n", last[0] / (last[0] + last[1]), logp);
    }
    const double start_a[2][2] = {{0.95, 0.05}, {0.095, 0.905}};
    const double start_b[2][3] = {{0.85, 0.10, 0.05}, {0.2, 0.3, 0.5}};
    fill(m, 0.5, start_a, start_b);
    if (ghmm_dmodel_baum_welch_nstep(m, all, 100000, 1e-13) != 0) return 1;
    double sum = 0, logp;
    for (int i = 0; i < sequences; ++i) {
        ghmm_dmodel_logp(m, all->seq[i], length, &logp);
        sum += logp;
    }
    const ghmm_dstate *k = &m->s[0], *u = &m->s[1];
    printf("fit,,,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g,%.17g\n", sum, k->pi,
           u->out_a[0] / k->out_a[0], 1 - k->out_a[0], k->b[0], k->b[1], u->b[0], u->b[1]);
    return 0;
}
