package catchbay.sim.campaign;

import catchbay.run.RunMachine;
import catchbay.sim.FaultKind;

import java.lang.management.ManagementFactory;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** Prints the tables of {@code src/docs/fault-campaign.md}; started by {@code src/campaign}. */
public final class FaultCampaign {

    private static final long SEED = 1;
    private static final int SHORT_SWEEPS = 20_000;
    private static final int WHOLE_SWEEPS = 200;
    private static final int THREADS = 2;

    private FaultCampaign() {}

    /**
     * @param args nothing for the whole campaign, or how many short sweeps to play and how many
     *     whole ones
     */
    public static void main(String[] args) throws InterruptedException {
        int shorts = args.length == 2 ? Integer.parseInt(args[0]) : SHORT_SWEEPS;
        int wholes = args.length == 2 ? Integer.parseInt(args[1]) : WHOLE_SWEEPS;
        say(
                "Method version %d, seeds from %d, %d threads.",
                RunMachine.METHOD_VERSION, SEED, THREADS);
        Played small = played(shorts, DrawnSweep.Size.SHORT);
        report("Short sweeps", small);
        for (FaultKind.Group group : FaultKind.Group.values()) {
            say("\n### %s\n", group.words());
            small.tally.table(group).forEach(line -> say("%s", line));
        }
        say("\n### Not detectable\n");
        small.tally.unseen().forEach(line -> say("%s", line));
        Played whole = played(wholes, DrawnSweep.Size.WHOLE);
        report("Whole sweeps", whole);
        say("");
        small.tally.complaints().forEach(complaint -> say("%s", complaint));
        whole.tally.complaints().forEach(complaint -> say("%s", complaint));
    }

    private static void report(String title, Played played) {
        say("\n### %s\n", title);
        played.tally.summary().forEach(line -> say("%s", line));
        say(
                "\nProcessor time: %.0f ms for each sweep with its faults and without, %.1f ms for"
                        + " each catch.",
                played.cpuNanos / 1e6 / played.tally.sweeps(),
                played.cpuNanos / 1e6 / played.tally.catches());
    }

    /**
     * What a number of sweeps came to.
     *
     * @param cpuNanos processor time of all threads
     */
    private record Played(Tally tally, long cpuNanos) {}

    /** Plays the seeds from the first on, every thread its own share of them. */
    private static Played played(int sweeps, DrawnSweep.Size size) throws InterruptedException {
        List<Share> shares = new ArrayList<>();
        List<Thread> threads = new ArrayList<>();
        for (int i = 0; i < THREADS; i++) {
            Share share = new Share(SEED + i, SEED + sweeps, size);
            shares.add(share);
            threads.add(Thread.ofPlatform().start(share));
        }
        for (Thread thread : threads) {
            thread.join();
        }
        Tally all = new Tally();
        long cpuNanos = 0;
        for (Share share : shares) {
            all.add(share.tally);
            cpuNanos += share.cpuNanos;
        }
        return new Played(all, cpuNanos);
    }

    /** Every so manieth seed. */
    private static final class Share implements Runnable {

        private final long first;
        private final long end;
        private final DrawnSweep.Size size;
        private final Tally tally = new Tally();
        private long cpuNanos;

        Share(long first, long end, DrawnSweep.Size size) {
            this.first = first;
            this.end = end;
            this.size = size;
        }

        @Override
        public void run() {
            for (long seed = first; seed < end; seed += THREADS) {
                tally.add(SweepCheck.of(DrawnSweep.of(seed, size)));
            }
            cpuNanos = ManagementFactory.getThreadMXBean().getCurrentThreadCpuTime();
        }
    }

    private static void say(String format, Object... values) {
        System.out.println(String.format(Locale.ROOT, format, values));
    }
}
