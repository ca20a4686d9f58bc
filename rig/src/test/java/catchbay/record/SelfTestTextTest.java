package catchbay.record;

import static org.junit.jupiter.api.Assertions.assertEquals;

import catchbay.quantity.Mass;
import catchbay.record.SelfTestText.Done;
import catchbay.record.SelfTestText.Load;

import org.junit.jupiter.api.Test;

import java.util.Optional;

/** The result of every version of a self-test's file is read for ever. */
final class SelfTestTextTest {

    /** As version 1 wrote it on the example of a whole bay. */
    private static final String VERSION_1 =
            """
            {"catchbay_self_test":1,"test":"20260105-080000-leak","kind":"leak","origin":"simulated",\
            "bay":"Whole bay","day":"2026-01-05","by":"A. Name","confirmed_by":"stand-in operator",\
            "figures":[{"of":"tank, everything shut","serial":"SCALE-1","unit":"kg-per-hour",\
            "error_kg_per_hour":-0.016000,"error_expanded_kg_per_hour":0.207991,\
            "limit_kg_per_hour":0.334945,"answer":"passes"},{"of":"reference meter, zero count",\
            "serial":"METER-1","unit":"pulses","error_pulses":0.000000,"error_expanded_pulses":0.000000,\
            "limit_pulses":0.000000,"answer":"passes"}],\
            "sentence":"The tank keeps what is in it. The reference meter counts nothing.",\
            "answer":"passes"}\
            """;

    @Test
    void version1IsRead() {
        Done done = SelfTestText.read(VERSION_1).orElseThrow();
        assertEquals(Optional.empty(), done.load());
        assertEquals(2, done.figures().size());
        assertEquals("A. Name", done.head().by().orElseThrow());
    }

    @Test
    void whatLayOnTheScaleComesBack() {
        Done old = SelfTestText.read(VERSION_1).orElseThrow();
        Done done =
                new Done(
                        old.head(),
                        Optional.of(new Load(new Mass(41.25), new Mass(41.125))),
                        old.figures(),
                        old.confirmedBy(),
                        old.sentence());
        assertEquals(Optional.of(done), SelfTestText.read(SelfTestText.of(done)));
        String later = SelfTestText.of(done).replace("_test\":2", "_test\":3");
        assertEquals(Optional.empty(), SelfTestText.read(later), later);
    }
}
