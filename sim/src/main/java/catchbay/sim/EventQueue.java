package catchbay.sim;

import java.util.PriorityQueue;

/**
 * What is to happen in a world: in order of time, and at one time in the order in which it was put
 * in.
 */
final class EventQueue {

    private record Event(long atNanos, long order, Runnable happening)
            implements Comparable<Event> {
        @Override
        public int compareTo(Event other) {
            int byTime = Long.compare(atNanos, other.atNanos);
            return byTime != 0 ? byTime : Long.compare(order, other.order);
        }
    }

    private final PriorityQueue<Event> events = new PriorityQueue<>();
    private long order;

    void put(long atNanos, Runnable happening) {
        events.add(new Event(atNanos, order++, happening));
    }

    /** When the next event is due; {@link Long#MAX_VALUE} when there is none. */
    long nextNanos() {
        return events.isEmpty() ? Long.MAX_VALUE : events.peek().atNanos;
    }

    void playNext() {
        events.remove().happening.run();
    }
}
