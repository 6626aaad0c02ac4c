# Puntuación, repaso, pistas y planes. Español.

score-total = { $points } de 100 puntos (rúbrica { $rubric }, versión { $version }).
score-passed = Aprobado.
score-not-passed = No aprobado. Lo que lo impidió:
score-gate-stop-work = Se infringió una regla de seguridad que obliga a parar el trabajo.
score-gate-wrong-call = El último diagnóstico no era correcto.
score-gate-complaint-left = La queja seguía ahí al entregar el auto.
score-gate-below-pass-mark = Faltan puntos.
score-gate-over-budget = Más minutos de los que se dijeron al cliente.
score-gate-not-handed-back = El auto no se entregó.
score-it-was = Lo que fallaba: { $fault }.

score-part = { $part }: { $points } de { $most }.
score-part-call = Diagnóstico
score-part-proof = Prueba
score-part-order = Orden de las pruebas
score-part-economy = Economía
score-part-safety = Seguridad
score-part-parts = Piezas
score-part-finish = Cierre

score-line = { $points }, acción { $n }: { $action } { $why }
score-line-whole = { $points }: { $why }
score-line-told = acción { $n }: { $action } { $why }

score-call-right = Lugar correcto, falla correcta.
score-call-place = Lugar correcto, pero le pasa otra cosa.
score-call-wrong = Era otra cosa.
score-no-call = No se dio ningún diagnóstico.
score-earlier-wrong = Un diagnóstico anterior al último que no era correcto.
score-proof = El { $percent } % de lo posible hablaba a su favor.
score-rivals = Una prueba todavía podía descartar: { $rivals }.
score-regret = Perdió { $minutes } frente a la mejor elección, en promedio.
score-economy = { $used } de pruebas; el mejor plan tarda { $best } en este auto.
score-over-budget = { $minutes } más de lo que se dijo al cliente.
score-sound-part = No tenía nada: { $part }.
score-kept = Hecho: { $habit }.
score-missed = Sin hacer: { $habit }.
score-hint = Una pista de nivel { $level }.

score-habit-reproduced = la queja comprobada antes de empezar
score-habit-retested = la queja comprobada otra vez del mismo modo
score-habit-vent = el aire palpado o medido después de la reparación
score-habit-relays = todos los relés puestos
score-habit-fuses = todos los fusibles puestos y enteros
score-habit-plugs = todos los conectores puestos
score-habit-covers = todas las tapas puestas
score-habit-tools = ninguna herramienta olvidada en el auto
score-habit-key = contacto quitado
score-habit-spares = repuestos de vuelta en el banco
score-habit-handed-back = entregado con queja, causa y corrección por escrito

score-poor-redundant = Redundante: lo que ya se había visto decidía cómo iba a salir.
score-poor-irrelevant = Irrelevante: no puede distinguir lo que aún era posible, en ningún estado del auto en que sea seguro probar.
score-poor-premature = Prematura: no dice nada en este estado del auto, pero en otro sí.

## Nombres

score-label-wire = cable { $colour } de { $from } a { $to }
score-label-slot = { $name } ({ $label })
score-label-terminal = terminal { $pin } de { $part }
score-fault = { $place }: { $failure }

## Pruebas

score-post-positive = el positivo de la batería
score-post-negative = el negativo de la batería
score-probe-light = lámpara de prueba con la pinza en { $post }, tocar { $point }
score-probe-sweep = lámpara de prueba con la pinza en { $post }, tocar todas las cavidades del zócalo de { $part }
score-probe-volts = voltios entre { $point } y el negativo de la batería
score-probe-ohms = ohmios entre { $a } y { $b }
score-probe-bridge = puente con fusible en el lado de carga del zócalo de { $part }
score-probe-look = mirar con la lámpara de inspección: { $place }
score-probe-feel = palpar: { $place }
score-probe-inspect = sacar y mirar de cerca: { $part }
score-probe-press = empujar hasta el fondo: { $plug }
score-probe-gauge = leer el manómetro de baja
score-probe-swap = un repuesto comprobado para { $part } y comprobar otra vez la queja

## Repaso

score-walk-action = Acción { $n }, { $minutes }: { $action }
score-walk-open = Antes de ella quedaban { $count } resultados abiertos.
score-walk-certain = Su resultado ya era seguro.
score-walk-told = Incertidumbre: { $before } bits antes, { $after } después; aún posibles: { $left }.
score-walk-possible = { $percent } %: { $candidate }
score-walk-better = Mejor: { $test } (auto: { $state }). Desde ahí { $minutes } hasta un diagnóstico probado, en promedio; su elección perdió { $given }.
score-walk-also-sound = También acertada. Según lo que suele fallar en este auto, esto habría sido { $given } más rápido, en promedio: { $test } (auto: { $state }). Según otras estimaciones razonables de lo que falla, y de cuánto se tarda en llegar a las piezas, su elección fue igual de buena.
score-route-title = El mejor plan desde su primera prueba, tal como sale en este auto:
score-route-title-known = El mejor plan conocido desde su primera prueba, tal como sale en este auto (hay demasiados caminos para probarlos todos):
score-route-step = { $n }. { $test } (auto: { $state }): a los { $minutes }, quedan { $bits } bits.
score-state-control = { $control } { $at }
score-state-running = motor en marcha
score-state-out = { $part } fuera
score-why-nothing-feeds = En este estado ({ $state }) nada alimenta este punto, sea cual sea la falla, así que una lámpara apagada no dice nada. Diría algo en: { $other }.
score-why-nothing-grounds = En este estado ({ $state }) nada lleva este punto a masa, sea cual sea la falla, así que una lámpara apagada no dice nada. Diría algo en: { $other }.
score-why-premature = En este estado ({ $state }) todas las fallas aún posibles muestran lo mismo aquí. Diría algo en: { $other }.
score-why-redundant = En este estado ({ $state }) toda falla que sus propias pruebas habían dejado posible muestra lo mismo aquí.
score-why-irrelevant = En todo estado en que sea seguro probar, este punto muestra lo mismo con toda falla que aún era posible.

## Pistas

score-hint-price = Una pista de nivel { $level } cuesta { $price } puntos de 100.
score-hint-nothing-left = Lo visto deja una sola reparación. Diga cuál es.
score-hint-where = Piense { $section }: ahí está cerca del { $percent } % de lo que aún es posible.
score-hint-half = Use { $family }, con el auto así: { $state }.
score-hint-test = Ahora: { $test }, con el auto así: { $state }.
score-section-relay = en el propio relé
score-section-feed = en lo que alimenta los contactos, terminal { $terminal } del zócalo
score-section-load = en el lado de la carga, del terminal { $terminal } del zócalo a la carga y su masa
score-section-coil-feed = en lo que alimenta la bobina del relé, terminal { $terminal }
score-section-control = en lo que conmuta la bobina del relé, terminal { $terminal }
score-section-other = en el cable del terminal { $terminal } del zócalo
score-section-beyond = más allá del zócalo del relé: lo que da permiso, lo que se pide y lo que no es eléctrico
score-family-light = la lámpara de prueba
score-family-jumper = el puente con fusible
score-family-meter = el multímetro
score-family-senses = ojos, oídos y manos
score-family-inspect = lo que se puede sacar y mirar
score-family-swap = un repuesto comprobado
score-family-gauge = el manómetro

## Planes

score-plan-title = Mejor plan para { $title }, semilla { $seed }: { $minutes } hasta un diagnóstico probado, en promedio.
score-plan-bound = La cifra es la del mejor plan conocido; ninguno tarda menos de { $lower }.
score-plan-complaint-stays = la queja sigue ahí
score-plan-complaint-gone = la queja desapareció
score-plan-nothing = nada que percibir
score-plan-group = { $candidates }

# Títulos de las rúbricas incluidas
score-rubric-home = Práctica en casa
score-rubric-assignment = Tarea con calificación
score-rubric-shop = Visto bueno del taller
