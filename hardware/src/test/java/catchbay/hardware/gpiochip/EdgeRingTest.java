package catchbay.hardware.gpiochip;

import static org.junit.jupiter.api.Assertions.assertEquals;

import org.junit.jupiter.api.Test;

final class EdgeRingTest {

    @Test
    void whatFindsNoRoomIsCountedAndHarmsNothing() {
        EdgeRing ring = new EdgeRing(3);
        for (int number = 1; number <= 5; number++) {
            ring.put(10L * number, number);
        }
        assertEquals(3, ring.waiting());
        assertEquals(2, ring.lost());
        assertEquals(10, ring.stampNanos(0));
        assertEquals(3, ring.number(2));
        ring.release(2);
        ring.put(60, 6);
        assertEquals(2, ring.waiting());
        assertEquals(3, ring.number(0));
        assertEquals(60, ring.stampNanos(1));
    }

    @Test
    void twoThreadsPassAMillionEdgesInOrder() throws InterruptedException {
        EdgeRing ring = new EdgeRing(1000);
        int edges = 1_000_000;
        Thread writer =
                new Thread(() -> {
                    for (int number = 0; number < edges; ) {
                        if (ring.waiting() < ring.edgesMax()) {
                            ring.put(2L * number, number++);
                        }
                    }
                });
        writer.start();
        for (int next = 0; next < edges; ) {
            int waiting = ring.waiting();
            for (int i = 0; i < waiting; i++, next++) {
                assertEquals(next, ring.number(i));
                assertEquals(2L * next, ring.stampNanos(i));
            }
            ring.release(waiting);
        }
        writer.join();
        assertEquals(0, ring.lost());
    }
}
