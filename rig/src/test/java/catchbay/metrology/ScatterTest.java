package catchbay.metrology;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertSame;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import org.junit.jupiter.api.Test;

import java.util.List;

/** Scatter by hand; its promise under a stopping rule is in {@link RepeatabilityTest}. */
final class ScatterTest {

    private static void assertRefused(String part, Runnable action) {
        String text = assertThrows(IllegalArgumentException.class, action::run).getMessage();
        assertTrue(text.contains(part), text);
    }

    /** JCGM 100:2008, 4.2.2: of 1, 2, 3 the deviation is 1, whatever followed. */
    @Test
    void onlyPlannedRunsCount() {
        assertEquals(new Scatter(1, 2), Scatter.ofPlanned(new double[] {1, 2, 3, 99, -5}, 3));
    }

    /** (2 x 4 + 8 x 1) / 10 = 1.6. */
    @Test
    void poolingWeighsByDegreesOfFreedom() {
        Scatter pooled = new Scatter(2, 2).pooledWith(new Scatter(1, 8));
        assertEquals(Math.sqrt(1.6), pooled.standard(), 1e-15);
        assertEquals(10, pooled.degreesOfFreedom());
    }

    /** JCGM 100:2008, 4.2.4: (2 x 4 + 8 x 1 + 5 x 9) / 15. */
    @Test
    void setsPoolToOne() {
        Scatter pooled =
                Scatter.pooled(List.of(new Scatter(2, 2), new Scatter(1, 8), new Scatter(3, 5)));
        assertEquals(Math.sqrt(61 / 15.0), pooled.standard(), 1e-15);
        assertEquals(15, pooled.degreesOfFreedom());
    }

    /** F 0.95 (2, 8) = 4.46 (any F table): a variance of 4 pools, one of 5 stands alone. */
    @Test
    void anUnsteadySetStandsAlone() {
        Scatter earlier = new Scatter(1, 8);
        Scatter unsteady = new Scatter(Math.sqrt(5), 2);
        assertSame(unsteady, unsteady.pooledWith(earlier));
        assertEquals(10, new Scatter(Math.sqrt(4.4), 2).pooledWith(earlier).degreesOfFreedom());
        // A steadier set pools: its own three runs may just have been lucky.
        assertEquals(10, new Scatter(0.01, 2).pooledWith(earlier).degreesOfFreedom());
    }

    @Test
    void asAnInputItIsDividedOnAveraging() {
        Input input = new Scatter(2, 4).input("run to run");
        assertEquals(Input.Scope.RUN, input.scope());
        assertEquals(2, input.standard());
        assertEquals(4, input.degreesOfFreedom());
        assertEquals(0, input.value());
    }

    @Test
    void nonsenseIsRefused() {
        assertRefused("no scatter to pool", () -> Scatter.pooled(List.of()));
        assertRefused("never differ", () -> new Scatter(0, 2));
        assertRefused("was NaN", () -> new Scatter(Double.NaN, 2));
        assertRefused("at least 1, were 0.5", () -> new Scatter(1, 0.5));
        assertRefused("never differ", () -> Scatter.ofPlanned(new double[] {2, 2, 2}, 3));
        assertRefused("planned 2", () -> Scatter.ofPlanned(new double[] {1, 2, 3}, 2));
        assertRefused("planned 4, made 3", () -> Scatter.ofPlanned(new double[] {1, 2, 3}, 4));
        assertRefused(
                "cannot be pooled",
                () -> new Scatter(1, 2).pooledWith(new Scatter(1, Double.POSITIVE_INFINITY)));
    }
}
