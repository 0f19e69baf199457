// Package sequence runs what a room's intents and matrix say: events in, levels
// out, each with its cause. It is deterministic: no clock of its own, no
// goroutine, and the same events give the same levels.
//
// # What holds where a scope is silent
//
//  1. A fade runs in a straight line from the level that the load has just then; a
//     new command in a fade starts from there. The daylight factor and the cap have
//     fades of their own.
//  2. Output = locked level, else requested x daylight factor x cap, not under the
//     load's lowest level unless it is 0. A switched load is 0 or 100.
//  3. At one instant what happens to the room comes before timers: people who come
//     just as a delay ends keep the light on. Timers at one instant run in the order
//     of the project's classes, then of the intents.
//  4. A press is a person's claim on a load for the hold of the "by hand" intent. A
//     lower class leaves the load alone while the claim lives. It ends by time or
//     when the room has gone vacant. Its end alone changes nothing.
//  5. Gone vacant always acts, under a person's claim too; only a hold of automatic
//     events, a condition that does not hold, or a live schedule of higher rank,
//     keeps it off. A hold or a condition is asked again after the same delay for as
//     long as the room is empty, so that no light stays on behind it.
//  6. A schedule's off that meets a person's claim waits for its end, a power
//     failure between them or not.
//  7. From a schedule's off until its next on, or until 06:00, a press lights for
//     the override time, then warns, then goes off; each press renews it. Without an
//     override time it has no end. After a power failure the time starts anew.
//  8. A press counts as presence: it starts a running delay anew and ends a warning.
//     Light that is brought up in a room without people starts the delay at once.
//  9. Raise from dark starts at the lowest level, lower stops at it. A short press
//     of a raise or lower button steps, a held one runs until it is let go, at most
//     10 s. Holding a button for which nothing is said of holding is a press. Raise
//     never lowers what is above its limit, and lower never raises. Any other command
//     to the load ends a held one.
//  10. Toggle: where one of the button's loads is lit all go off, else each goes to
//     its last level. An AV command that is said twice counts once for going back.
//  11. Delays count from the last vacant report. Where sensors state delays of
//     their own, the longest counts. Where sensors of both kinds look at a load, those
//     of the occupancy kind light it, in whatever order they see somebody, unless a
//     person has pressed before. A sensor that does not act in the partition's state
//     counts for nothing.
//  12. A condition is asked when the action is due. Darker than holds, and brighter
//     than does not, before any daylight reading.
//  13. A sensor that works says again what it said within its watchdog time; a run
//     does not show that. One that has fallen silent keeps its last word until the
//     watchdog time is over, and then counts as occupied. Without a watchdog time its
//     last word stands.
//  14. Daylight reads in lx as it would be at the task: factor = (target - reading) /
//     target, within 0 to 1. Under the intent's lowest level a load that may go off
//     does, and comes back 5 points above it.
//  15. Power back: as the intent says, else the last level; sensors count as
//     occupied until they report, so delays start anew. Loads with a bypass stay at
//     full while power is gone: their listed device does that, not this room.
//  16. Without the building network a room with a gateway gets no calendar, schedule
//     or demand response; when it is back, the last one missed is made up for.
//  17. A clock time in the hour that summer time leaves out happens at the end of that
//     hour; one in the hour that comes twice happens at its first coming.
//  18. Emergency locks come before all; of two on a load the brighter holds. When they
//     end, other locks go on, and loads do as after power back.
//  19. A cell of a contact's input counts for that input. A contact device without any
//     cell leaves it to the intents what its inputs act on.
//  20. The cap holds under daylight too: never more than its share of what is asked
//     for, unless the load cannot be so low.
package sequence
