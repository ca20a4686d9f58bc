package catchbay.plan;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.quantity.Ratio;
import catchbay.run.Judgement;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

import java.util.Optional;

/** What a verification shows: the new constant, the old one, or neither. Sums by hand. */
final class ProofTest {

    /** Of a constant that makes 3.2 % of difference, or of totals known less well than that. */
    @ParameterizedTest
    @CsvSource({
        "0.1, 1.6, new",
        "-1.5, 1.6, new",
        "-1.7, 1.6, old",
        "-3.2, 1.6, old",
        "-4.7, 1.6, old",
        "-4.9, 1.6, neither",
        "-16.65, 1.6, neither",
        "1.7, 1.6, neither",
        "-1.7, 0.4, old",
        "-1, 0.4, neither",
        "-5, 2, old",
        "-5.3, 2, neither",
    })
    void showsTheNewConstantTheOldOneOrNeither(double found, double within, String shown) {
        Optional<SweepResult.Proof> proof =
                new SweepResult.Proof(
                                false,
                                Judgement.On.METER,
                                percent(0),
                                percent(found),
                                percent(within))
                        .unlessNeither(percent(-3.2).value());
        assertEquals(shown, proof.map(known -> known.holds() ? "new" : "old").orElse("neither"));
    }

    private static Ratio percent(double percent) {
        return new Ratio(percent / 100);
    }
}
