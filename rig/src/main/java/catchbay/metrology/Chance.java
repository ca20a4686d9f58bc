package catchbay.metrology;

import java.util.random.RandomGenerator;

/**
 * Draws inputs from their distributions (JCGM 101:2008, 6.4). Only the generator's even numbers are
 * used and everything else is {@code StrictMath}, so that one seed gives the same draws on every
 * machine; the platform's own normal numbers promise no such thing.
 */
final class Chance {

    private final RandomGenerator random;

    /** A normal number made together with the last one and not used yet. */
    private double spare;

    private boolean hasSpare;

    Chance(RandomGenerator random) {
        this.random = random;
    }

    /** A value that the input may have. */
    double draw(Input input) {
        double apart =
                switch (input.shape()) {
                    case NORMAL -> normal();
                    case RECTANGULAR -> Input.ROOT_3 * (2 * random.nextDouble() - 1);
                    // The sum of two even numbers is triangular.
                    case TRIANGULAR ->
                            Input.ROOT_6 * (random.nextDouble() + random.nextDouble() - 1);
                    case STUDENT -> student(input.degreesOfFreedom());
                    case EXACT -> 0;
                };
        return input.value() + input.standard() * apart;
    }

    /**
     * A standard normal number, by the polar method (Marsaglia and Bray, SIAM Review 6 (1964) 260,
     * from memory).
     */
    private double normal() {
        if (hasSpare) {
            hasSpare = false;
            return spare;
        }
        while (true) {
            double x = 2 * random.nextDouble() - 1;
            double y = 2 * random.nextDouble() - 1;
            double square = x * x + y * y;
            if (square > 0 && square < 1) {
                double factor = Math.sqrt(-2 * StrictMath.log(square) / square);
                spare = y * factor;
                hasSpare = true;
                return x * factor;
            }
        }
    }

    /**
     * A number of Student's t with any degrees of freedom, by the polar method (Bailey, Mathematics
     * of Computation 62 (1994) 779, from memory).
     */
    private double student(double degreesOfFreedom) {
        if (Double.isInfinite(degreesOfFreedom)) {
            return normal();
        }
        while (true) {
            double x = 2 * random.nextDouble() - 1;
            double y = 2 * random.nextDouble() - 1;
            double square = x * x + y * y;
            if (square > 0 && square < 1) {
                double power = StrictMath.expm1(-2 / degreesOfFreedom * StrictMath.log(square));
                return x * Math.sqrt(degreesOfFreedom * power / square);
            }
        }
    }
}
