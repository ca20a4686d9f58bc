package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

/** The kernel's numbers are those of linux/gpio.h: seqno and line_seqno, 32 bits, from 1. */
final class EdgeNumbersTest {

    private final EdgeNumbers numbers = new EdgeNumbers();

    @Test
    void theFirstEdgeIsOne() {
        assertEquals(1, numbers.next(1, 1));
        assertEquals(2, numbers.next(2, 2));
    }

    @Test
    void anEdgeLostBeforeTheFirstShows() {
        assertEquals(3, numbers.next(3, 3));
    }

    @Test
    void aMergedEdgeThatTheLinesOwnNumberHidesIsMissing() {
        numbers.next(1, 1);
        assertEquals(3, numbers.next(3, 2), "number 2 interrupted and was merged");
        assertEquals(4, numbers.next(4, 3));
    }

    @Test
    void anOverflowOfTheKernelsBufferIsMissing() {
        numbers.next(1, 1);
        assertEquals(6, numbers.next(6, 6));
    }

    @Test
    void aNumberThatOnlyTheLineCountsOnIsAnEdge() {
        numbers.next(5, 5);
        assertEquals(6, numbers.next(5, 6));
    }

    @Test
    void anEdgeThatIsNewByNeitherRepeatsItsNumber() {
        numbers.next(5, 5);
        assertEquals(5, numbers.next(5, 5));
    }

    @Test
    void thirtyTwoBitsGoRound() {
        for (long at = 0; at <= 1L << 32; at += 1L << 30) {
            numbers.next((int) at, (int) at);
        }
        assertEquals((1L << 32) + 2, numbers.next(2, 2));
    }
}
